import { mayReverse } from '../interlocking/reverse.js';
import { obstacleOn } from '../interlocking/route-check.js';
import { stands } from '../movement/standing.js';
import type { WaitReason } from '../session/wait-reason.js';
import type { Writer } from '../session/writer.js';
import { chooseTrack, overrule } from '../yards/choose-track.js';
import { leavesByRules } from '../yards/leave-yard.js';
import { planWait, plannedMove, waitsForPlanned } from './follow-plan.js';
import { grant } from './grant.js';
import { presentNodes } from './order.js';
import { grantByDetour, grantByOrder } from './proven-order.js';
import type { Move, OrderStep } from './safety-problem.js';
import { beginSearch, continueSearch } from './safety-search.js';
import { givesWay } from './turn.js';
import { firstWait } from './wishes/first-wish.js';
import { agreeing } from './wishes/track-wish.js';

/**
 * Grants a train its best open move, or says why it has none. First the planned one, while the plan has it wait for that
 * no other; then in the order of the working's ways. A move in the way of nobody else is granted by the proven order,
 * others only after a search has shown that all trains still finish.
 */
export function choose(w: Writer, index: number): WaitReason | null {
  const graph = w.world.graphs[index]!;
  const train = w.state.trains[index]!;
  const agrees = agreeing(w, index);
  if (agrees !== null) overrule(w, index);
  // While a train is starving, only what brings its turn counts: neither the rules of a yard nor a plan.
  const isStarving = w.state.dispatching.starving >= 0;
  const inYard =
    agrees === null && !isStarving ? chooseTrack(w, index, tryMove) : 'nothing-to-choose';
  if (inYard !== 'nothing-to-choose') return inYard;
  const isFree = isStarving || leavesByRules(w, index);
  const plan = isFree ? null : plannedMove(w, index);
  const planned = plan !== null && agrees?.(plan) !== false ? plan : null;
  let first: WaitReason | null = null;
  if (planned !== null) {
    const order = planWait(w, index);
    if (order !== null) return order;
    first = tryMove(w, index, planned);
    if (first === null || waitsForPlanned(w, index, first)) return first;
  }
  for (const move of graph.moves(train.node)) {
    if (move === planned || agrees?.(move) === false) continue;
    const reason = tryMove(w, index, move);
    if (reason === null) return null;
    first ??= reason;
    if (reason.kind === 'searching') return reason;
  }
  return first ?? { kind: 'no-way' };
}

function tryMove(w: Writer, index: number, move: Move): WaitReason | null {
  const graph = w.world.graphs[index]!;
  const { route, reverses } = graph.meaningOf(w.state.trains[index]!.node, move.to);
  if (reverses && !(stands(w, index) && mayReverse(w, index)))
    return { kind: 'own-tail', element: move.needs[0]! };
  if (route === null && !stands(w, index)) return { kind: 'own-tail', element: move.needs[0]! };
  const first = firstWait(w, index, move);
  if (first !== null) return first;
  const obstacle =
    route === null ? null : obstacleOn(w.world, w.state, index, w.world.layout.routes[route]!);
  if (obstacle !== null) return obstacle;
  const gives = givesWay(w, index, move);
  if (gives !== null) return gives;
  const order = safeOrder(w, index, move);
  if ('kind' in order) return order;
  grant(w, index, move, order);
  return null;
}

/** An order that proves the state after the move, or why there is none (yet). */
function safeOrder(w: Writer, index: number, move: Move): readonly OrderStep[] | WaitReason {
  const { dispatching, counts } = w.state;
  const nodes = presentNodes(w);
  const key = `${index}:${move.to}`;
  const finding = dispatching.findings[key];
  if (finding === 'doomed' || finding === 'exhausted') return refusedAs(finding);
  if (dispatching.proven && finding === undefined) {
    if (w.orderBudget === 0) return { kind: 'searching' };
    const known = orderKnown(w, index, move, nodes);
    if (known !== null) return known;
    dispatching.findings[key] = 'beyond-order';
  }
  const searching = dispatching.searchFor;
  if (searching !== null && (searching.train !== index || searching.to !== move.to)) {
    return { kind: 'searching' };
  }
  nodes[index] = move.to;
  const guide = withoutFirst(dispatching.order, index, move.to);
  const search = dispatching.search ?? beginSearch(w.world.safety, nodes, guide);
  const before = search.expansions;
  const verdict = continueSearch(w.world.safety, search, w.searchBudget);
  w.searched(search.expansions - before);
  const going = verdict.kind === 'searching';
  dispatching.search = going ? search : null;
  dispatching.searchFor = going ? { train: index, to: move.to } : null;
  if (verdict.kind === 'searching') return { kind: 'searching' };
  if (verdict.kind === 'safe') return verdict.order;
  dispatching.findings[key] = verdict.kind;
  if (verdict.kind === 'doomed') counts.refusedDoomed++;
  else counts.refusedExhausted++;
  return refusedAs(verdict.kind);
}

/** An order made of the last proven one, without a search; null when that is silent about the move. */
function orderKnown(
  w: Writer,
  index: number,
  move: Move,
  nodes: readonly number[],
): readonly OrderStep[] | null {
  const { order } = w.state.dispatching;
  w.readOrder(order.length);
  const quick = grantByOrder(w.world.safety, nodes, order, index, move);
  if (quick.kind === 'safe') return quick.order;
  const detour = grantByDetour(w.world.safety, nodes, order, index, move);
  return detour.kind === 'safe' ? detour.order : null;
}

const refusedAs = (kind: 'doomed' | 'exhausted'): WaitReason =>
  kind === 'doomed' ? { kind: 'would-lock' } : { kind: 'search-exhausted' };

/** The order without the train's own first step, if that is the step now taken. */
function withoutFirst(order: readonly OrderStep[], train: number, to: number): OrderStep[] {
  const at = order.findIndex((step) => step.train === train);
  return at >= 0 && order[at]!.to === to ? order.toSpliced(at, 1) : [...order];
}
