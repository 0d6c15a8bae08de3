import { matchingPattern, trainsOfPattern } from './doomed-patterns.js';
import { UNBLOCKED, type Holdings } from './holdings.js';
import type { Move, OrderStep, SafetyProblem } from './safety-problem.js';
import type { Search } from './safety-search.js';
import { onPath } from './search-path.js';

export type Explanation =
  | { readonly kind: 'open'; readonly step: OrderStep }
  | { readonly kind: 'doomed'; readonly trains: readonly number[] };

/**
 * Gathers the trains that hold each other up, from one train that is not at a goal. For each move of each
 * gathered train: if it is blocked, the train in its way joins; if it leads into a known doomed pattern, that
 * pattern's trains join; if it leads back to a state of the path, all join; otherwise the move is open and
 * ends the question. When no train is left to ask, the gathered trains at their nodes are doomed by themselves.
 */
export function explain(
  problem: SafetyProblem,
  search: Search,
  holdings: Holdings,
  seed: number,
): Explanation {
  const trains = [seed];
  for (const train of trains) {
    const from = search.nodes[train]!;
    for (const move of problem.trains[train]!.moves(from)) {
      if (!isBlockedBy(trains, holdings, train, from, move)) {
        const reasons = reasonsAgainst(search, holdings, train, from, move);
        if (reasons === undefined) return { kind: 'open', step: { train, to: move.to } };
        for (const other of reasons) if (!trains.includes(other)) trains.push(other);
      }
    }
  }
  return { kind: 'doomed', trains };
}

/** Whether a train already gathered stands in the way, so that no other need be brought in. */
function isBlockedBy(
  trains: readonly number[],
  holdings: Holdings,
  train: number,
  from: number,
  move: Move,
): boolean {
  return (
    move.needs.some((resource) => {
      const other = holdings.otherHolder(train, resource);
      return other !== UNBLOCKED && trains.includes(other);
    }) || holdings.bridges(train, from, move)
  );
}

function reasonsAgainst(
  search: Search,
  holdings: Holdings,
  train: number,
  from: number,
  move: Move,
): readonly number[] | undefined {
  const blocker = holdings.blockerOf(train, from, move);
  if (blocker !== UNBLOCKED) return [blocker];
  const pattern = matchingPattern(search.patterns, search.nodes, train, move.to);
  if (pattern >= 0) return trainsOfPattern(search.patterns, pattern);
  return onPath(search.path, search.nodes, train, move.to)
    ? search.nodes.map((_, index) => index)
    : undefined;
}
