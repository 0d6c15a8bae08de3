import { isApproachLocked } from '../interlocking/approach-locked.js';
import { obstacleOn } from '../interlocking/route-check.js';
import { mayReverse, reversePath } from '../interlocking/reverse.js';
import { reserve } from '../interlocking/reservation.js';
import { lastHeading } from '../interlocking/held-path.js';
import { blockOf } from '../layout/layout.js';
import type { ElementIndex, Heading, Layout, RouteIndex } from '../layout/layout.js';
import { stands } from '../movement/standing.js';
import { sentence } from '../session/explain.js';
import { mayRun } from '../session/phase.js';
import { refusal, type Refusal } from '../session/refusal.js';
import type { Writer } from '../session/writer.js';
import { legStops } from '../timetable/legs.js';
import { depart } from '../timetable/progress.js';
import type { Place } from '../timetable/working-graph.js';
import { forgetWait } from '../yards/yard-wait.js';
import { leavePlan } from './follow-plan.js';
import { adoptOrder, findOrder, presentNodes } from './order.js';
import type { OrderStep } from './safety-problem.js';
import { shortestWay } from './shortest-way.js';

/**
 * Sets a route for a train to a block that a person chose, over any number of blocks, all or nothing: the shortest way
 * on from where its way ends, or the single route named, which begins there. Refused if anything is in the way, if the train could not go on with its work from
 * there, or if the trains could then no longer all finish.
 */
export function routeByHand(
  w: Writer,
  index: number,
  block: ElementIndex,
  route?: RouteIndex,
): Refusal | null {
  const unfit = unfitForHand(w, index);
  if (unfit !== null) return unfit;
  const { layout } = w.world;
  const train = w.state.trains[index]!;
  const { label } = w.world.stock.trains[index]!.file;
  const from = lastHeading(train.path);
  const way =
    route === undefined ? shortestWay(layout, from, block) : routeAsWay(layout, from, block, route);
  if (way === null) {
    return refusal('no-way', `No way leads ${label} on to block ${layout.elements[block]!.id}.`);
  }
  for (const route of way) {
    const obstacle = obstacleOn(w.world, w.state, index, layout.routes[route]!);
    if (obstacle !== null) {
      const text = `${capital(sentence(w.world, obstacle))}.`;
      return refusal(obstacle.kind, text, 'by' in obstacle ? obstacle.by : undefined);
    }
  }
  const nodes = nodesAlong(w, index, way);
  const order = orderFrom(w, index, nodes.at(-1)!);
  if ('code' in order) return order;
  const granted = w.train(index);
  granted.node = nodes.at(-1)!;
  granted.nodes.push(...nodes);
  leavePlan(w, index);
  adoptOrder(w, order);
  forgetWait(w, index);
  depart(w, index);
  for (const route of way) reserve(w, index, layout.routes[route]!);
  return null;
}

/** A route a person named, if it begins and ends where it must. */
function routeAsWay(
  layout: Layout,
  from: Heading,
  block: ElementIndex,
  route: RouteIndex,
): RouteIndex[] | null {
  const named = layout.routes[route];
  return named?.from === from && blockOf(named.to) === block ? [route] : null;
}

/** Turns a standing train round: its rear leads from now on. */
export function turnRound(w: Writer, index: number): Refusal | null {
  const unfit = unfitForHand(w, index);
  if (unfit !== null) return unfit;
  const train = w.state.trains[index]!;
  const { label, canReverse } = w.world.stock.trains[index]!.file;
  if (!canReverse) return refusal('cannot-reverse', `${label} cannot run with its rear leading.`);
  if (!stands(w, index)) return refusal('still-moving', `${label} is not proven standing yet.`);
  if (!mayReverse(w, index)) {
    return refusal(
      'own-tail',
      `The rear of ${label} is not proven clear of the turnouts behind it.`,
    );
  }
  const node = w.world.graphs[index]!.turnedNode(train.node);
  const order = orderFrom(w, index, node);
  if ('code' in order) return order;
  reversePath(w, index);
  const turned = w.train(index);
  turned.node = node;
  turned.nodes = [node];
  leavePlan(w, index);
  adoptOrder(w, order);
  return null;
}

function unfitForHand(w: Writer, index: number): Refusal | null {
  const train = w.state.trains[index]!;
  const { label } = w.world.stock.trains[index]!.file;
  if (!mayRun(w.state)) {
    return refusal('not-running', 'The session is not running; start or resume it first.');
  }
  if (train.activity.kind === 'absent') return refusal('absent', `${label} is not on the layout.`);
  if (train.activity.kind === 'halted') {
    return refusal('halted', `${label} was stopped: ${train.activity.why}. Let it go on first.`);
  }
  if (isApproachLocked(w.state, index)) {
    const text = `What ${label} gave back is locked until it certainly stands; wait a moment.`;
    return refusal('given-back', text);
  }
  if (!train.confirmed || train.identity.certainty === 'ambiguous') {
    return refusal('identity', `It is not certain where ${label} stands; say so first.`);
  }
  return null;
}

/** The places where the train could rest on the way, block by block, as nodes of its graph. */
function nodesAlong(w: Writer, index: number, way: readonly RouteIndex[]): number[] {
  const graph = w.world.graphs[index]!;
  let place: Place = graph.placeOf(w.state.trains[index]!.node);
  return way.map((route, at) => {
    const { to, steps } = w.world.layout.routes[route]!;
    place = {
      ...arrivedPlace(w, index, place, to, at === way.length - 1),
      trail: [...place.trail, ...steps],
    };
    const node = graph.nodeFor(place);
    place = { ...graph.placeOf(node), trail: place.trail };
    return node;
  });
}

/** The place a train comes to at a heading: on its leg still, or at the leg's end. */
function arrivedPlace(
  w: Writer,
  index: number,
  from: Place,
  heading: Heading,
  isLast: boolean,
): Place {
  const graph = w.world.graphs[index]!;
  const stops = legStops(graph, from.leg);
  const ends = graph.isTarget(from.leg, heading) && (isLast || !stops);
  return { ...from, heading, leg: from.leg + (ends ? 1 : 0), atStop: ends && stops };
}

/** An order in which all trains finish with this one at the node, or the reason why there is none. */
export function orderFrom(w: Writer, index: number, node: number): readonly OrderStep[] | Refusal {
  const { label } = w.world.stock.trains[index]!.file;
  if (w.world.graphs[index]!.distance(node) === Infinity) {
    return refusal('no-way-on', `From there, ${label} could not go on with its work.`);
  }
  const nodes = presentNodes(w);
  nodes[index] = node;
  return findOrder(w, nodes, w.state.dispatching.order, `If ${label} went there`);
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
