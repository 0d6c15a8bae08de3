import { matchingPattern } from './doomed-patterns.js';
import { UNBLOCKED, type Holdings } from './holdings.js';
import type { Move } from './safety-problem.js';
import type { Search } from './safety-search.js';
import { onPath } from './search-path.js';

/** Whether the move is legal now and leads neither into a known doom nor back to a state of the path. */
export function isOpen(search: Search, holdings: Holdings, train: number, move: Move): boolean {
  return (
    holdings.blockerOf(train, search.nodes[train]!, move) === UNBLOCKED &&
    matchingPattern(search.patterns, search.nodes, train, move.to) < 0 &&
    !onPath(search.path, search.nodes, train, move.to)
  );
}
