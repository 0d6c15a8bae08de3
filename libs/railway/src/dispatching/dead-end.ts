import { matchingPattern, trainsOfPattern } from './doomed-patterns.js';
import { UNBLOCKED, type Holdings } from './holdings.js';
import type { Move, OrderStep, SafetyProblem } from './safety-problem.js';
import type { Search } from './safety-search.js';
import { onPath } from './search-path.js';

export interface DeadEnd {
  readonly kind: 'doomed';
  readonly trains: readonly number[];
  /** Whether a move was ruled out only because it leads back to a state of the path. */
  readonly tied: boolean;
}

export type Explanation = { readonly kind: 'open'; readonly step: OrderStep } | DeadEnd;

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
  let tied = false;
  for (const train of trains) {
    const from = search.nodes[train]!;
    for (const move of problem.trains[train]!.moves(from)) {
      if (!isBlockedBy(trains, holdings, train, from, move)) {
        const reasons = reasonsAgainst(search, holdings, train, from, move);
        if (reasons === undefined) return { kind: 'open', step: { train, to: move.to } };
        tied ||= reasons.tied;
        for (const other of reasons.trains) if (!trains.includes(other)) trains.push(other);
      }
    }
  }
  return { kind: 'doomed', trains, tied };
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

interface Reasons {
  readonly trains: readonly number[];
  readonly tied: boolean;
}

function reasonsAgainst(
  search: Search,
  holdings: Holdings,
  train: number,
  from: number,
  move: Move,
): Reasons | undefined {
  const blocker = holdings.blockerOf(train, from, move);
  if (blocker !== UNBLOCKED) return { trains: [blocker], tied: false };
  const pattern = matchingPattern(search.patterns, search.nodes, train, move.to);
  if (pattern >= 0) {
    const tied = search.patterns.tied[pattern] === 1;
    return { trains: trainsOfPattern(search.patterns, pattern), tied };
  }
  return onPath(search.path, search.nodes, train, move.to)
    ? { trains: search.nodes.map((_, index) => index), tied: true }
    : undefined;
}
