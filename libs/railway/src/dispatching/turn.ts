import { fastNow } from '../timetable/fast-clock.js';
import { nextBooked } from '../timetable/departure.js';
import { setDeadline } from '../session/deadlines.js';
import type { Precedence } from '../session/state.js';
import type { WaitReason } from '../session/wait-reason.js';
import type { Writer } from '../session/writer.js';
import { inYardOrder } from '../yards/leave-yard.js';
import { planRank } from './follow-plan.js';
import { promote } from './promote.js';
import { presentNodes, rearrangeOrder } from './order.js';
import type { Move } from './safety-problem.js';
import { dropFirstWishes } from './wishes/first-wish.js';
import { dropTrackWishes } from './wishes/track-wish.js';

/** How long a train that wants to go may be passed over before its turn is forced, in physical ms. */
const PATIENCE = 120_000;

/**
 * The order in which trains are asked: trains under way first, since they block most, then as the plan has it, then by the
 * session's precedence; the train number decides what is still equal. Those due in a staging yard go among themselves as its rules
 * have it.
 */
export function byTurn(w: Writer): number[] {
  const fast = fastNow(w.state.session.clock, w.now);
  const claims = w.state.trains.map((train, index) => ({
    index,
    starving: w.state.dispatching.starving === index ? 0 : 1,
    moving: train.activity.kind === 'moving' ? 0 : 1,
    planned: planRank(w, index),
    booked: nextBooked(w, index) ?? fast,
    priority: w.world.stock.trains[index]!.file.priority,
    since: train.waitingSince,
    came: wantsInVain(train.wait) ? train.waitingSince : w.now,
  }));
  const precedes = PRECEDENCE[w.state.dispatching.precedence];
  const order = claims
    .sort(
      (a, b) =>
        a.starving - b.starving ||
        a.moving - b.moving ||
        a.planned - b.planned ||
        precedes(a, b) ||
        a.index - b.index,
    )
    .map(({ index }) => index);
  return inYardOrder(w, order);
}

interface Claim {
  readonly booked: number;
  readonly priority: number;
  readonly since: number;
  /** Since when it has asked for way in vain; now, if it hasn't. */
  readonly came: number;
}

/** Below 0 when the first claim comes before the second. */
const PRECEDENCE: Record<Precedence, (a: Claim, b: Claim) => number> = {
  booked: (a, b) => a.booked - b.booked || a.priority - b.priority || a.since - b.since,
  'first-come': (a, b) => a.came - b.came,
  priority: (a, b) => a.priority - b.priority || a.came - b.came,
};

/** Finds the train whose patience is over, and brings its next move forward in the proven order. */
export function noteStarvation(w: Writer): void {
  const { dispatching, trains } = w.state;
  const patient = (index: number): boolean => {
    const train = trains[index]!;
    return !wantsInVain(train.wait) || w.now - train.waitingSince < PATIENCE;
  };
  if (dispatching.starving >= 0 && !patient(dispatching.starving)) return;
  let longest = -1;
  trains.forEach((train, index) => {
    if (patient(index)) return;
    if (longest < 0 || train.waitingSince < trains[longest]!.waitingSince) longest = index;
  });
  dispatching.starving = longest;
  if (longest < 0) return;
  dropTrackWishes(w, longest, 'it has waited too long for that');
  dropFirstWishes(w, longest, `${w.world.stock.trains[longest]!.file.label} has waited too long`);
  rearrangeOrder(w, promote(w.world.safety, presentNodes(w), dispatching.order, longest));
  w.log(
    `${w.world.stock.trains[longest]!.file.label} has waited long; its turn comes first now.`,
    longest,
  );
}

/**
 * A dispatcher's wish may have a train wait where nothing else happens: then the moment at which it has waited too long is
 * arranged.
 */
export function awaitStarvation(w: Writer): void {
  const { dispatching, trains } = w.state;
  const { tracks, firsts } = dispatching.wishes;
  if (tracks.length + firsts.length === 0 || dispatching.starving >= 0) return;
  trains.forEach(({ wait, waitingSince }, index) => {
    const until = waitingSince + PATIENCE;
    if (wantsInVain(wait) && until > w.now) setDeadline(w.state, 'patience', index, until);
  });
}

/** Whether the wait is for other trains, rather than for the timetable or a person. */
function wantsInVain(wait: WaitReason | null): boolean {
  switch (wait?.kind) {
    case 'element-held':
    case 'section-claimed':
    case 'section-occupied':
    case 'would-lock':
    case 'search-exhausted':
    case 'gives-way':
    case 'plan-order':
      return true;
    default:
      return false;
  }
}

/**
 * While a train is starving, others may take only the moves that stand before its own in the proven order: each of
 * those is needed for its turn to come, so that after finitely many of them it does.
 */
export function givesWay(w: Writer, index: number, move: Move): WaitReason | null {
  const { starving, order } = w.state.dispatching;
  if (starving < 0 || starving === index) return null;
  for (const step of order) {
    if (step.train === starving) break;
    if (step.train === index) {
      return step.to === move.to ? null : { kind: 'gives-way', to: starving };
    }
  }
  return { kind: 'gives-way', to: starving };
}
