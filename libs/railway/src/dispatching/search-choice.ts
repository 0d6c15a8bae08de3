import { UNBLOCKED, type Holdings } from './holdings.js';
import { isOpen } from './open-move.js';
import type { OrderStep, SafetyProblem } from './safety-problem.js';
import type { Search } from './safety-search.js';
import { guidedNode, guidedRank } from './search-guide.js';

/**
 * The step to try next in a state not seen before, as far as one is known without looking ahead. What is
 * chosen decides only how soon an order is found, never the verdict.
 */
export function knownStep(
  problem: SafetyProblem,
  search: Search,
  holdings: Holdings,
): OrderStep | undefined {
  const intended = intendedStep(problem, search, holdings);
  if (intended !== undefined) return intended;
  return search.attempt % 2 === 1 ? guidedStep(problem, search, holdings) : undefined;
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

/**
 * The guide's earliest pending step or, while that is blocked, the next step of the train in its way, and so on
 * along the chain of trains that wait for each other. When the chain closes, the earliest step of a train
 * outside it begins another.
 */
function guidedStep(
  problem: SafetyProblem,
  search: Search,
  holdings: Holdings,
): OrderStep | undefined {
  const asked = new Set<number>();
  for (;;) {
    let train = earliestTrain(search, asked);
    if (train < 0) return undefined;
    while (train >= 0 && !asked.has(train)) {
      asked.add(train);
      const from = search.nodes[train]!;
      const guided = guidedNode(search.guide, train);
      const moves = problem.trains[train]!.moves(from);
      const wanted = guided < 0 ? moves : moves.filter((move) => move.to === guided);
      const open = wanted.find((move) => isOpen(search, holdings, train, move));
      if (open !== undefined) return { train, to: open.to };
      const waiter = train;
      train = wanted
        .map((move) => holdings.blockerOf(waiter, from, move))
        .reduce((first, blocker) => (first === UNBLOCKED ? blocker : first), UNBLOCKED);
    }
  }
}

function earliestTrain({ guide, nodes }: Search, except: ReadonlySet<number>): number {
  let earliest = -1;
  let rank = Infinity;
  for (let train = 0; train < nodes.length; train += 1) {
    const due = guidedRank(guide, train);
    if (due < rank && !except.has(train)) {
      rank = due;
      earliest = train;
    }
  }
  return earliest;
}

/** The first open move there is; undefined at a dead end. */
export function anyStep(
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
