import { Holdings, UNBLOCKED } from './holdings.js';
import { replay } from './proven-order.js';
import type { Move, OrderStep, SafetyProblem } from './safety-problem.js';

const holdings = new Holdings();

/**
 * The proven order with a train's next step brought as far forward as it goes, so that a train that has waited
 * long is served first. If the train can run on to a place where it is in nobody's way, that run comes first
 * of all. Otherwise everything the step does not depend on is moved behind it. All else keeps its sequence. The
 * result is replayed; the order given is returned when that fails. Time grows with the number of steps.
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
  const run = runAhead(problem, nodes, order, train);
  if (run !== undefined && replay(problem, nodes, run)) return run;
  const shifted = shiftForward(problem, nodes, order, due);
  return replay(problem, nodes, shifted) ? shifted : order;
}

/**
 * The order with the train's next steps first of all: as few as bring it to a node whose resources nobody needs
 * before the train gets there anyway. Undefined when another train is in the way of such a run.
 */
function runAhead(
  problem: SafetyProblem,
  nodes: readonly number[],
  order: readonly OrderStep[],
  train: number,
): readonly OrderStep[] | undefined {
  const graph = problem.trains[train]!;
  holdings.load(problem, nodes);
  const needed = new Uint8Array(problem.resourceCount);
  const reached = nodes.slice();
  const run: OrderStep[] = [];
  const others: OrderStep[] = [];
  for (const [place, step] of order.entries()) {
    const from = reached[step.train]!;
    const moves = problem.trains[step.train]!.moves(from);
    reached[step.train] = step.to;
    if (step.train !== train) {
      for (const resource of needsOf(moves, step.to)) needed[resource] = 1;
      others.push(step);
      continue;
    }
    const free = moves.some(
      (move) => move.to === step.to && holdings.blockerOf(train, from, move) === UNBLOCKED,
    );
    if (!free) return undefined;
    run.push(step);
    if (!graph.holds(step.to).some((resource) => needed[resource] === 1)) {
      return [...run, ...others, ...order.slice(place + 1)];
    }
  }
  return undefined;
}

/**
 * Two neighbouring steps of different trains may change places when the later one needs nothing that the earlier
 * one releases, and the earlier one needs nothing that the later one takes. Working back from the train's step, a
 * step that may not be passed by one already kept in front is kept too; the rest can then be passed one by one.
 */
function shiftForward(
  problem: SafetyProblem,
  nodes: readonly number[],
  order: readonly OrderStep[],
  due: number,
): readonly OrderStep[] {
  const kept = stepsBefore(problem, nodes, order, due);
  const first: OrderStep[] = [];
  const rest: OrderStep[] = [];
  for (let place = 0; place < due; place += 1) {
    (kept[place] === 1 ? first : rest).push(order[place]!);
  }
  return [...first, order[due]!, ...rest, ...order.slice(due + 1)];
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
