import type { Holdings } from './holdings.js';
import { lookAhead } from './look-ahead.js';
import { isOpen } from './open-move.js';
import type { OrderStep, SafetyProblem } from './safety-problem.js';
import type { Search } from './safety-search.js';
import { guidedNode, guidedRank } from './search-guide.js';

/**
 * The step to try next in a state not seen before; undefined when no move is open. What is chosen decides only how
 * soon an order is found, never the verdict.
 */
export function chooseStep(
  problem: SafetyProblem,
  search: Search,
  holdings: Holdings,
): OrderStep | undefined {
  return (
    intendedStep(problem, search, holdings) ??
    guidedStep(problem, search, holdings) ??
    farSightedStep(problem, search, holdings) ??
    anyStep(problem, search, holdings)
  );
}

function intendedStep(
  problem: SafetyProblem,
  search: Search,
  holdings: Holdings,
): OrderStep | undefined {
  for (;;) {
    const step = search.intentions.pop();
    if (step === undefined || openTo(problem, search, holdings, step.train, step.to)) return step;
  }
}

/** The guide's earliest step that is open now. A train that left the guide takes its own best move when its turn comes. */
function guidedStep(
  problem: SafetyProblem,
  search: Search,
  holdings: Holdings,
): OrderStep | undefined {
  let best: OrderStep | undefined;
  let bestRank = Infinity;
  for (let train = 0; train < search.nodes.length; train += 1) {
    const rank = guidedRank(search.guide, train);
    if (rank < bestRank) {
      const to = guidedNode(search.guide, train);
      const step =
        to < 0
          ? firstOpenStep(problem, search, holdings, train)
          : openTo(problem, search, holdings, train, to)
            ? { train, to }
            : undefined;
      if (step !== undefined) {
        best = step;
        bestRank = rank;
      }
    }
  }
  return best;
}

function farSightedStep(
  problem: SafetyProblem,
  search: Search,
  holdings: Holdings,
): OrderStep | undefined {
  const way = lookAhead(problem, search, holdings);
  for (let step = way.length - 1; step > 0; step -= 1) search.intentions.push(way[step]!);
  return way[0];
}

function anyStep(
  problem: SafetyProblem,
  search: Search,
  holdings: Holdings,
): OrderStep | undefined {
  for (let train = 0; train < search.nodes.length; train += 1) {
    const step = firstOpenStep(problem, search, holdings, train);
    if (step !== undefined) return step;
  }
  return undefined;
}

function firstOpenStep(
  problem: SafetyProblem,
  search: Search,
  holdings: Holdings,
  train: number,
): OrderStep | undefined {
  const moves = problem.trains[train]!.moves(search.nodes[train]!);
  const move = moves.find((candidate) => isOpen(search, holdings, train, candidate));
  return move && { train, to: move.to };
}

function openTo(
  problem: SafetyProblem,
  search: Search,
  holdings: Holdings,
  train: number,
  to: number,
): boolean {
  return problem.trains[train]!.moves(search.nodes[train]!).some(
    (move) => move.to === to && isOpen(search, holdings, train, move),
  );
}
