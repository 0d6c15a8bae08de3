import type { Writer } from '../session/writer.js';
import { refusal, type Refusal } from '../session/refusal.js';
import { replay } from './proven-order.js';
import type { OrderStep } from './safety-problem.js';
import { beginSearch, continueSearch } from './safety-search.js';

/** Expansions a person's wish may cost; it is answered within its step. */
const SEARCH_LIMIT = 4000;

/** Where each train's held path ends: the state whose safety counts. */
export const presentNodes = (w: Writer): number[] => w.state.trains.map((train) => train.node);

/**
 * An order in which all trains finish from these nodes, or the reason why there is none.
 * @param condition what would have to be so, the beginning of a sentence
 */
export function findOrder(
  { world }: Writer,
  nodes: readonly number[],
  guide: readonly OrderStep[],
  condition: string,
): readonly OrderStep[] | Refusal {
  const search = beginSearch(world.safety, nodes, guide, SEARCH_LIMIT);
  const verdict = continueSearch(world.safety, search, SEARCH_LIMIT);
  if (verdict.kind === 'safe') return verdict.order;
  return verdict.kind === 'doomed'
    ? refusal(
        'would-lock',
        `${condition}, the trains could no longer all finish. Choose another place, or wait until others have moved on.`,
      )
    : refusal(
        'search-exhausted',
        'Whether that is safe could not be worked out within the steps allowed.',
      );
}

/** Takes over a proven order after a grant; what had been refused may be safe now. */
export function adoptOrder(w: Writer, order: readonly OrderStep[]): void {
  const { dispatching } = w.state;
  dispatching.order = [...order];
  dispatching.proven = true;
  forgetFindings(w);
}

/** The trains' places changed: a search under way and what was refused no longer count. */
export function forgetFindings(w: Writer): void {
  const { dispatching } = w.state;
  dispatching.search = null;
  dispatching.searchFor = null;
  dispatching.findings = {};
  dispatching.due = true;
}

/** The same moves in another sequence: what the old one was silent about may be in it. */
export function rearrangeOrder(w: Writer, order: readonly OrderStep[]): void {
  const { dispatching } = w.state;
  dispatching.order = [...order];
  for (const [move, finding] of Object.entries(dispatching.findings))
    if (finding === 'beyond-order') delete dispatching.findings[move];
}

/**
 * A train gave back its last reserved blocks: its moves into them return to the front of the order, which so
 * proves the earlier state again, unless a person had set a way that no working asks for: then it is searched anew.
 */
export function returnOrderSteps(w: Writer, index: number, blocks: number): void {
  const train = w.train(index);
  const returned = train.nodes.splice(train.nodes.length - blocks);
  const { order } = w.state.dispatching;
  train.node = train.nodes[train.nodes.length - 1]!;
  const restored = [...returned.map((to) => ({ train: index, to })), ...order];
  w.state.dispatching.order = restored;
  w.state.dispatching.proven &&= replay(w.world.safety, presentNodes(w), restored);
  forgetFindings(w);
}
