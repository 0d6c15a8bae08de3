import { matchingPattern } from './doomed-patterns.js';
import { UNBLOCKED, type Holdings } from './holdings.js';
import { isOpen } from './open-move.js';
import type { OrderStep, SafetyProblem } from './safety-problem.js';
import type { Search } from './safety-search.js';
import { onPath } from './search-path.js';

/** Nodes looked at for one run at most. */
const REACH = 2048;

/** How far a train can run while all others stand still, as plain data. */
export interface ClearRun {
  /** Where the run begins. */
  readonly node: number;
  /** The way to the first goal found, or to the place nearest to one. */
  readonly way: readonly OrderStep[];
  /** Trains that stood in the way of going on, and where: while they stand there the run reaches no goal. */
  readonly stoppers: readonly number[];
  readonly stopperNodes: readonly number[];
}

interface Place {
  readonly node: number;
  /** Place it was reached from, or -1. */
  readonly before: number;
}

/** The train's run over what no other train holds, from memory if what stopped it before still stops it. */
export function clearRun(
  problem: SafetyProblem,
  search: Search,
  holdings: Holdings,
  train: number,
): ClearRun {
  const known = search.runs[train] ?? null;
  if (known !== null && stillStands(problem, search, holdings, train, known)) {
    search.effort += 1;
    return known;
  }
  const run = findRun(problem, search, holdings, train);
  const end = run.way.at(-1);
  search.runs[train] = end !== undefined && problem.trains[train]!.isGoal(end.to) ? null : run;
  return run;
}

function stillStands(
  problem: SafetyProblem,
  search: Search,
  holdings: Holdings,
  train: number,
  run: ClearRun,
): boolean {
  if (search.nodes[train] !== run.node) return false;
  if (run.stoppers.some((stopper, at) => search.nodes[stopper] !== run.stopperNodes[at])) {
    return false;
  }
  const first = run.way[0];
  if (first === undefined) return true;
  const moves = problem.trains[train]!.moves(run.node);
  return moves.some((move) => move.to === first.to && isOpen(search, holdings, train, move));
}

function findRun(
  problem: SafetyProblem,
  search: Search,
  holdings: Holdings,
  train: number,
): ClearRun {
  const graph = problem.trains[train]!;
  const start = search.nodes[train]!;
  const places: Place[] = [{ node: start, before: -1 }];
  const seen = new Set<number>();
  const stoppers = new Set<number>();
  const open = [0];
  let nearest = 0;
  let distance = graph.distance(start);
  while (open.length > 0 && seen.size < REACH) {
    const at = open.pop()!;
    const { node } = places[at]!;
    if (seen.has(node)) continue;
    seen.add(node);
    if (graph.distance(node) < distance) {
      nearest = at;
      distance = graph.distance(node);
    }
    if (at > 0 && graph.isGoal(node)) {
      nearest = at;
      break;
    }
    const moves = graph.moves(node);
    for (let index = moves.length - 1; index >= 0; index -= 1) {
      const move = moves[index]!;
      if (seen.has(move.to)) continue;
      const stopper = holdings.blockerOf(train, node, move);
      if (stopper !== UNBLOCKED) {
        stoppers.add(stopper);
      } else if (
        matchingPattern(search.patterns, search.nodes, train, move.to) < 0 &&
        (at > 0 || !onPath(search.path, search.nodes, train, move.to))
      ) {
        open.push(places.length);
        places.push({ node: move.to, before: at });
      }
    }
  }
  search.effort += seen.size;
  return {
    node: start,
    way: wayTo(places, nearest, train),
    stoppers: [...stoppers],
    stopperNodes: [...stoppers].map((stopper) => search.nodes[stopper]!),
  };
}

function wayTo(places: readonly Place[], end: number, train: number): OrderStep[] {
  const way: OrderStep[] = [];
  for (let at = end; at > 0; at = places[at]!.before) way.push({ train, to: places[at]!.node });
  return way.reverse();
}
