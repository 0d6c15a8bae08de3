import { clearAlarm, raiseAlarm } from '../session/alarms.js';
import { setDeadline } from '../session/deadlines.js';
import { openQuestions } from '../session/line-up.js';
import { mayRun } from '../session/phase.js';
import type { WaitReason } from '../session/wait-reason.js';
import type { Writer } from '../session/writer.js';
import { noteWait } from '../waiting/keep-delays.js';
import { tellWaits } from '../waiting/tell-waits.js';
import { moveUp } from '../yards/move-up.js';
import { giveOpenServices } from '../yards/open-services.js';
import { choose } from './choose.js';
import { dropPlan } from './follow-plan.js';
import { proveState } from './prove.js';
import { wantOf } from './request.js';
import { awaitStarvation, byTurn, noteStarvation } from './turn.js';
import { settleCancellations } from './wishes/cancel.js';
import { dropFirstWishesIfAllWait, settleFirstWishes } from './wishes/first-wish.js';
import { forgetTrackWishes } from './wishes/track-wish.js';

/** Grants in one step at most, so that no step is long. */
const GRANTS_A_STEP = 6;

/**
 * Lets every train that wants more way have it where that is safe, best claim first. What is not finished within
 * the step's budget goes on in the next: the engine asks to be woken at once.
 */
export function dispatch(w: Writer): void {
  const { dispatching } = w.state;
  dispatching.due = false;
  if (!dispatching.proven && placesConfirmed(w)) {
    const outcome = proveState(w);
    if (outcome === 'searching') return again(w);
    if (outcome !== 'proven') return lockedUp(w, outcome);
  }
  if (!mayRun(w.state)) return;
  settleWishes(w);
  giveOpenServices(w);
  clearAlarm(w, 'locked-up');
  noteStarvation(w);
  const searched = dispatching.search;
  const expansions = searched?.expansions;
  let grants = 0;
  for (const index of byTurn(w)) {
    const want = wantOf(w, index);
    if (want.kind === 'enough')
      setWait(w, index, restsInHand(w, index) ? { kind: 'in-hand' } : null);
    else if (want.kind !== 'wants') {
      setWait(w, index, want);
      if (moveUp(w, index, want) && ++grants >= GRANTS_A_STEP) break;
    } else {
      const refused = choose(w, index);
      setWait(w, index, refused);
      if (refused === null && ++grants >= GRANTS_A_STEP) break;
    }
  }
  if (grants === 0) dropPlanIfAllWait(w);
  awaitStarvation(w);
  tellWaits(w);
  const idle =
    searched !== null && dispatching.search === searched && searched.expansions === expansions;
  if (idle && w.orderBudget > 0) dropSearch(w);
  if (dispatching.search !== null || dispatching.due || w.orderBudget === 0) again(w);
}

/** What has come about of a dispatcher's wishes, and what can't any more. */
function settleWishes(w: Writer): void {
  settleCancellations(w);
  forgetTrackWishes(w);
  settleFirstWishes(w);
}

/** A plan for whose order all wait, while nothing moves, is of no use any more. */
function dropPlanIfAllWait(w: Writer): void {
  const { trains } = w.state;
  if (trains.some(({ activity, wait }) => activity.kind === 'moving' || isTimed(wait))) return;
  dropFirstWishesIfAllWait(w);
  if (!trains.some(({ wait }) => wait?.kind === 'plan-order')) return;
  w.log('The plan had every train wait; it is not followed any more.');
  dropPlan(w);
}

/** Whether the wait ends by itself in time. */
function isTimed(wait: WaitReason | null): boolean {
  switch (wait?.kind) {
    case 'booked':
    case 'dwell':
    case 'connection':
    case 'turnout-moving':
    case 'searching':
    case 'not-asked-for':
      return true;
    case 'yard-full':
      return wait.until !== null;
    default:
      return false;
  }
}

/** A search whose train does not ask for the move any more is not gone on with. */
function dropSearch(w: Writer): void {
  w.state.dispatching.search = null;
  w.state.dispatching.searchFor = null;
}

/** Whether all places are known, so that it makes sense to look for an order. */
function placesConfirmed(w: Writer): boolean {
  const { phase } = w.state.session;
  if (phase.kind === 'line-up') return phase.settled && openQuestions(w.world, w.state) === 0;
  return phase.kind !== 'set-up' && phase.kind !== 'powerless' && phase.kind !== 'ended';
}

function lockedUp(w: Writer, outcome: 'none' | 'exhausted'): void {
  raiseAlarm(
    w,
    'locked-up',
    outcome === 'none'
      ? 'As the trains stand, there is no order in which all of them finish.'
      : 'As the trains stand, no order in which all of them finish was found within the steps allowed.',
    'Move a train to another track or take one off.',
  );
}

/** Whether a train stands only because its crew asks for no speed. */
function restsInHand(w: Writer, index: number): boolean {
  const { activity, handSpeed } = w.state.trains[index]!;
  return handSpeed === 0 && activity.kind === 'standing';
}

function again(w: Writer): void {
  setDeadline(w.state, 'dispatch', -1, w.now);
}

/** Remembers why a train waits, and since when. */
function setWait(w: Writer, index: number, wait: WaitReason | null): void {
  const before = w.state.trains[index]!.wait;
  if (before === wait || (before !== null && wait !== null && same(before, wait))) return;
  const train = w.train(index);
  if (before === null || isOwn(before)) train.waitingSince = w.now;
  train.wait = wait;
  noteWait(w, index, wait);
}

/** Whether the train asked for no way: it had its time at a call, or a person kept it. */
function isOwn({ kind }: WaitReason): boolean {
  switch (kind) {
    case 'booked':
    case 'dwell':
    case 'connection':
    case 'departures-held':
    case 'held-by-person':
    case 'not-running':
    case 'not-confirmed':
    case 'in-hand':
    case 'order-given':
    case 'yard-full':
    case 'not-asked-for':
      return true;
    default:
      return false;
  }
}

/** Reasons are small and flat: the same fields with the same values. */
function same(one: WaitReason, other: WaitReason): boolean {
  if (one.kind !== other.kind) return false;
  for (const name in one) {
    if (one[name as keyof WaitReason] !== other[name as keyof WaitReason]) return false;
  }
  return true;
}
