import { refusal, type Refusal } from '../../session/refusal.js';
import { useWork } from '../../session/world.js';
import type { Writer } from '../../session/writer.js';
import type { AddedWork } from '../../timetable/added-work.js';
import { stationsById } from '../../timetable/compile-timetable.js';
import { fastNow } from '../../timetable/fast-clock.js';
import { beginService, noteWait } from '../../waiting/keep-delays.js';
import { leavePlan } from '../follow-plan.js';
import { adoptOrder, findOrder, presentNodes } from '../order.js';
import type { OrderStep } from '../safety-problem.js';
import { thereAlready } from '../there-already.js';
import { renumber, renumberMemory } from './renumber.js';

/**
 * The work of a train is another from now on, with the train where it was; or why it can't be: no way leads along it, or with it the trains
 * could not all finish.
 */
export function putInForce(w: Writer, index: number, added: AddedWork): Refusal | null {
  const { world, state } = w;
  const old = world.graphs[index]!;
  useWork(world, added);
  const graph = world.graphs[index]!;
  const placed = renumber(state.trains[index]!, old, graph);
  const isThere =
    state.trains[index]!.arrivedAt === null
      ? null
      : thereAlready(w, index, placed, 'Nothing is to be done.');
  const last = added.services.at(-1)!.file.calls.at(-1)!.station;
  const to = stationsById(world.layout).get(last)!.file.name;
  const order = isThere ?? orderWith(w, index, placed.node, to);
  if ('code' in order) {
    useWork(world, state.added);
    world.book.forget(added);
    return order;
  }
  state.added = added;
  w.changes.session = true;
  const train = w.train(index);
  // Put on the layout without work, it never came to a call: it stands at the first of its work now.
  const hadNoCall = train.arrivedAt === null && train.leg === old.legCount;
  train.leg = hadNoCall ? graph.placeOf(placed.node).leg : placed.leg;
  train.node = placed.node;
  train.nodes = [...placed.nodes];
  if (hadNoCall) {
    train.arrivedAt = fastNow(state.session.clock, w.now);
    train.arrivedReal = w.now;
  }
  renumberMemory(w, index, placed);
  leavePlan(w, index);
  adoptOrder(w, order);
  if (train.arrivedAt !== null) {
    beginService(w, index);
    noteWait(w, index, train.wait);
  }
  return null;
}

function orderWith(
  w: Writer,
  index: number,
  node: number,
  to: string,
): readonly OrderStep[] | Refusal {
  const { label } = w.world.stock.trains[index]!.file;
  if (w.world.graphs[index]!.distance(node) === Infinity) {
    return refusal(
      'no-way-on',
      `No permitted way leads ${label} along this service to ${to} and on with its work. Name other tracks or another place.`,
    );
  }
  const nodes = presentNodes(w);
  nodes[index] = node;
  // The old order says nothing of this train any more: its places have other numbers.
  const guide = w.state.dispatching.order.filter(({ train }) => train !== index);
  return findOrder(w, nodes, guide, `With this service of ${label}`);
}
