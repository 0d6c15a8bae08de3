import { replay } from './proven-order.js';
import type { Move, OrderStep, SafetyProblem } from './safety-problem.js';

/**
 * The proven order with a train's next step brought as far forward as it goes, so that a train that has waited
 * long is served first. Everything the step does not depend on is moved behind it; all else keeps its sequence.
 *
 * Two neighbouring steps of different trains may change places when the later one needs nothing that the earlier
 * one releases, and the earlier one needs nothing that the later one takes. Working back from the train's step, a
 * step that may not be passed by one already kept in front is kept too; the rest can then be passed one by one.
 * The result is replayed all the same: the order given is returned when the replay fails.
 * @param nodes where the trains are
 * @param order proven from those nodes
 */
export function promote(
  problem: SafetyProblem,
  nodes: readonly number[],
  order: readonly OrderStep[],
  train: number,
): readonly OrderStep[] {
  const due = order.findIndex((step) => step.train === train);
  if (due <= 0) return order;
  const kept = stepsBefore(problem, nodes, order, due);
  const first: OrderStep[] = [];
  const rest: OrderStep[] = [];
  for (let place = 0; place < due; place += 1) {
    (kept[place] === 1 ? first : rest).push(order[place]!);
  }
  const promoted = [...first, order[due]!, ...rest, ...order.slice(due + 1)];
  return replay(problem, nodes, promoted) ? promoted : order;
}

/** Which of the steps before `due` must stay before it. */
function stepsBefore(
  problem: SafetyProblem,
  nodes: readonly number[],
  order: readonly OrderStep[],
  due: number,
): Uint8Array {
  const origins = originsOf(nodes, order, due);
  const kept = new Uint8Array(due);
  const trains = new Uint8Array(nodes.length);
  const needed = new Uint8Array(problem.resourceCount);
  const taken = new Uint8Array(problem.resourceCount);
  for (let place = due; place >= 0; place -= 1) {
    const { train, to } = order[place]!;
    const graph = problem.trains[train]!;
    const from = origins[place]!;
    const needs = needsOf(graph.moves(from), to);
    const held = graph.holds(from);
    const holds = graph.holds(to);
    const mustStay =
      place === due ||
      trains[train] === 1 ||
      held.some((resource) => needed[resource] === 1 && !holds.includes(resource)) ||
      needs.some((resource) => taken[resource] === 1);
    if (!mustStay) continue;
    if (place < due) kept[place] = 1;
    trains[train] = 1;
    for (const resource of needs) needed[resource] = 1;
    for (const resource of holds) if (!held.includes(resource)) taken[resource] = 1;
  }
  return kept;
}

/** The node each step up to `end` leaves. */
function originsOf(
  nodes: readonly number[],
  order: readonly OrderStep[],
  end: number,
): readonly number[] {
  const reached = nodes.slice();
  return order.slice(0, end + 1).map(({ train, to }) => {
    const from = reached[train]!;
    reached[train] = to;
    return from;
  });
}

/** All that a step to the node may need, whichever of its moves is used. */
function needsOf(moves: readonly Move[], to: number): number[] {
  return moves.filter((move) => move.to === to).flatMap((move) => move.needs);
}
