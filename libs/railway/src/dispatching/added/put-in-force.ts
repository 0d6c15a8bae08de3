import { refusal, type Refusal } from '../../session/refusal.js';
import { useWork } from '../../session/world.js';
import type { Writer } from '../../session/writer.js';
import type { AddedWork } from '../../timetable/added-work.js';
import { fastNow } from '../../timetable/fast-clock.js';
import { beginService, noteWait } from '../../waiting/keep-delays.js';
import { leavePlan } from '../follow-plan.js';
import { adoptOrder, findOrder, presentNodes } from '../order.js';
import type { OrderStep } from '../safety-problem.js';
import { thereAlready } from '../there-already.js';
import { renumber, renumberMemory } from './renumber.js';

/** What is said where the work of a train can't become another. */
export interface SaidIfRefused {
  /** A whole sentence: no way leads along it. */
  readonly noWay: string;
  /** The beginning of a sentence: with what the trains could no longer all finish. */
  readonly condition: string;
}

/**
 * The work of a train is another from now on, with the train where it was; or why it can't be: no way leads along it, or with it the trains
 * could not all finish.
 */
export function putInForce(
  w: Writer,
  index: number,
  changed: Omit<AddedWork, 'edition'>,
  said: SaidIfRefused,
): Refusal | null {
  const { world, state } = w;
  const old = world.graphs[index]!;
  const added: AddedWork = { ...changed, edition: state.added.edition + 1 };
  useWork(world, added);
  const graph = world.graphs[index]!;
  const placed = renumber(state.trains[index]!, old, graph);
  const isThere =
    state.trains[index]!.arrivedAt === null
      ? null
      : thereAlready(w, index, placed, 'Nothing is to be done.');
  const order = isThere ?? orderWith(w, index, placed.node, said);
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
  { noWay, condition }: SaidIfRefused,
): readonly OrderStep[] | Refusal {
  if (w.world.graphs[index]!.distance(node) === Infinity) return refusal('no-way-on', noWay);
  const nodes = presentNodes(w);
  nodes[index] = node;
  // The old order says nothing of this train any more: its places have other numbers.
  const guide = w.state.dispatching.order.filter(({ train }) => train !== index);
  return findOrder(w, nodes, guide, condition);
}
