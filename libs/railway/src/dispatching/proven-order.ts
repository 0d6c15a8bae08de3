import { Holdings, UNBLOCKED } from './holdings.js';
import type { Move, OrderStep, SafetyProblem } from './safety-problem.js';

/**
 * What can be said about a move from the last proven order, without a search. "Unknown" says nothing against
 * the move. With "safe" comes the order that proves the state after the move.
 */
export type OrderGrant =
  { readonly kind: 'safe'; readonly order: readonly OrderStep[] } | { readonly kind: 'unknown' };

const UNKNOWN: OrderGrant = { kind: 'unknown' };

const holdings = new Holdings();

/**
 * Whether the order is legal step by step from the given nodes and leaves every train at a goal. Full
 * verification; time grows with the number of steps only.
 */
export function replay(
  problem: SafetyProblem,
  nodes: readonly number[],
  order: readonly OrderStep[],
): boolean {
  holdings.load(problem, nodes);
  for (const { train, to } of order) {
    if (!canStep(problem, train, to)) return false;
    holdings.place(train, to);
  }
  return holdings.unfinished === 0;
}

/**
 * Tests a move that is the train's next step in the order: may it be made now, before the steps of other trains
 * that come first? It may when none of those steps needs what the move newly takes: each stays legal, and once
 * the train's old place in the order is passed the states are the same as before. Time grows with the number of
 * those steps.
 * @param nodes where the trains are before the move
 * @param order proven from those nodes
 */
export function grantByOrder(
  problem: SafetyProblem,
  nodes: readonly number[],
  order: readonly OrderStep[],
  train: number,
  move: Move,
): OrderGrant {
  const due = order.findIndex((step) => step.train === train);
  if (due < 0 || order[due]!.to !== move.to) return UNKNOWN;
  holdings.load(problem, nodes);
  const from = nodes[train]!;
  if (holdings.blockerOf(train, from, move) !== UNBLOCKED) return UNKNOWN;
  const graph = problem.trains[train]!;
  const old = graph.holds(from);
  const taken = graph.holds(move.to).filter((resource) => !old.includes(resource));
  if (taken.length > 0 && isNeeded(problem, nodes, order, due, taken)) return UNKNOWN;
  return { kind: 'safe', order: order.toSpliced(due, 1) };
}

/**
 * Tests a move another way than the order has it, by the nearest way back: the train goes on from there to the
 * first of its later nodes in the order, or to a goal, and its steps in between are exchanged for that way. The
 * order found is replayed in full.
 */
export function grantByDetour(
  problem: SafetyProblem,
  nodes: readonly number[],
  order: readonly OrderStep[],
  train: number,
  move: Move,
): OrderGrant {
  holdings.load(problem, nodes);
  if (holdings.blockerOf(train, nodes[train]!, move) !== UNBLOCKED) return UNKNOWN;
  const own = order.flatMap((step, place) => (step.train === train ? [place] : []));
  const way = wayBack(problem, train, move.to, new Set(own.map((place) => order[place]!.to)));
  if (way === undefined) return UNKNOWN;
  const joined = own.findIndex((place) => order[place]!.to === (way.at(-1) ?? move.to));
  const replaced = joined < 0 ? own : own.slice(0, joined + 1);
  const detour = exchangeSteps(order, train, replaced, way);
  const after = nodes.with(train, move.to);
  return replay(problem, after, detour) ? { kind: 'safe', order: detour } : UNKNOWN;
}

/** Whether the one step could be made now. Two moves to the same node differ only in how they get there. */
function canStep(problem: SafetyProblem, train: number, to: number): boolean {
  const from = holdings.nodes[train];
  if (from === undefined) return false;
  for (const move of problem.trains[train]!.moves(from)) {
    if (move.to === to && holdings.blockerOf(train, from, move) === UNBLOCKED) return true;
  }
  return false;
}

/** Whether one of the first `end` steps may need one of the resources, whichever of its moves is used. */
function isNeeded(
  problem: SafetyProblem,
  nodes: readonly number[],
  order: readonly OrderStep[],
  end: number,
  resources: readonly number[],
): boolean {
  const reached = nodes.slice();
  for (let place = 0; place < end; place += 1) {
    const { train, to } = order[place]!;
    for (const move of problem.trains[train]!.moves(reached[train]!)) {
      if (move.to !== to) continue;
      for (const resource of resources) if (move.needs.includes(resource)) return true;
    }
    reached[train] = to;
  }
  return false;
}

/** Nodes looked at for the way back. */
const DETOUR_REACH = 64;

/** The shortest way from a node to one of the train's later nodes or to a goal; empty when it is there already. */
function wayBack(
  problem: SafetyProblem,
  train: number,
  start: number,
  later: ReadonlySet<number>,
): number[] | undefined {
  const graph = problem.trains[train]!;
  const before = new Map<number, number>([[start, -1]]);
  for (const node of before.keys()) {
    if (later.has(node) || graph.isGoal(node)) {
      const way: number[] = [];
      for (let at = node; at !== start; at = before.get(at)!) way.push(at);
      return way.reverse();
    }
    if (before.size > DETOUR_REACH) return undefined;
    for (const { to } of graph.moves(node)) if (!before.has(to)) before.set(to, node);
  }
  return undefined;
}

/** The order with the steps at the given places exchanged for the nodes of the way, the last at the last place. */
function exchangeSteps(
  order: readonly OrderStep[],
  train: number,
  places: readonly number[],
  way: readonly number[],
): OrderStep[] {
  const steps = way.map((to): OrderStep => ({ train, to }));
  const exchanged: OrderStep[] = [];
  let left = places.length;
  let taken = 0;
  order.forEach((step, place) => {
    if (left === 0 || place !== places[places.length - left]) {
      exchanged.push(step);
      return;
    }
    left -= 1;
    while (steps.length - taken > left) exchanged.push(steps[taken++]!);
  });
  exchanged.push(...steps.slice(taken));
  return exchanged;
}
