import type { Writer } from '../session/writer.js';
import { adoptOrder, presentNodes } from './order.js';
import { replay } from './proven-order.js';
import { beginSearch, continueSearch } from './safety-search.js';

/** The first search of a session may cost more than a grant. */
const FIRST_LIMIT = 400_000;

/**
 * Finds an order that proves the state as it is, a slice at a time: before the start, and whenever trains were placed
 * anew.
 */
export function proveState(w: Writer): 'proven' | 'searching' | 'none' | 'exhausted' {
  const { dispatching } = w.state;
  if (dispatching.proven) return 'proven';
  const nodes = presentNodes(w);
  if (replay(w.world.safety, nodes, dispatching.order)) {
    adoptOrder(w, dispatching.order);
    return 'proven';
  }
  const search =
    dispatching.search ?? beginSearch(w.world.safety, nodes, dispatching.order, FIRST_LIMIT);
  const before = search.expansions;
  const verdict = continueSearch(w.world.safety, search, w.searchBudget);
  w.searched(search.expansions - before);
  dispatching.search = search;
  w.changes.session = true;
  if (verdict.kind === 'safe') {
    adoptOrder(w, verdict.order);
    return 'proven';
  }
  return verdict.kind === 'doomed' ? 'none' : verdict.kind;
}
