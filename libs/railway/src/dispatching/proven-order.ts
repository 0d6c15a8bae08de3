import { Holdings, UNBLOCKED } from './holdings.js';
import type { Move, OrderStep, SafetyProblem } from './safety-problem.js';

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
    const from = holdings.nodes[train];
    if (from === undefined) return false;
    const moves = problem.trains[train]!.moves(from);
    if (!moves.some((move) => move.to === to && isLegal(train, from, move))) return false;
    holdings.place(train, to);
  }
  return problem.trains.every((train, index) => train.isGoal(holdings.nodes[index]!));
}

function isLegal(train: number, from: number, move: Move): boolean {
  return holdings.blockerOf(train, from, move) === UNBLOCKED;
}
