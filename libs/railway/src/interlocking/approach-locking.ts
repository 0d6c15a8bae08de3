import { clearDeadline, setDeadline } from '../session/deadlines.js';
import type { Writer } from '../session/writer.js';
import { command, standsFrom } from '../movement/reckoning.js';
import { stands } from '../movement/standing.js';
import { instant, mmPerS } from '../units.js';
import { giveBackAhead } from './give-back.js';
import { piecesOf } from './held-path.js';

/** Time beyond the longest stopping time before a way that was given back frees, in ms. */
const MARGIN = 300;
/** When a train's place is not known: look again after this, in ms. */
const LOOK_AGAIN = 5000;

/**
 * Approach locking. A way given back before an approaching train goes to stop at once but stays locked: until the
 * train is proven standing, or for as long as it would have taken at the longest to come to a stand, if it has been
 * seen nowhere beyond its new limit by then. With nobody approaching it frees at once. That the time ends the locking
 * is the published rule; its value here follows from the train's own measured braking.
 */
export function lockApproach(w: Writer, index: number): void {
  const { reckoning } = w.state.trains[index]!;
  const told = command(w.world.models[index]!, reckoning, mmPerS(0), instant(w.now));
  const until = standsFrom(w.world.models[index]!, told) ?? w.now;
  setDeadline(w.state, 'approach', index, Math.max(until, w.now) + MARGIN);
  w.state.dispatching.due = true;
}

/**
 * The train stands, or the time is over. A train that was stopped for a fault must be proven standing, and what reads
 * occupied stays its own.
 */
export function releaseApproach(w: Writer, index: number): void {
  const { activity, confirmed } = w.state.trains[index]!;
  clearDeadline(w.state, 'approach', index);
  if (!confirmed || !isClearBeyond(w, index) || (activity.kind === 'halted' && !stands(w, index))) {
    setDeadline(w.state, 'approach', index, w.now + LOOK_AGAIN);
    return;
  }
  giveBackAhead(w, index);
}

/** Whether nothing is detected on what lies beyond a train's authority. */
function isClearBeyond(w: Writer, index: number): boolean {
  const { authorised, path } = w.state.trains[index]!;
  return piecesOf(w.world.layout, path.slice(authorised + 1)).every(
    ({ section }) => section < 0 || w.state.sections[section]!.belief === 'clear',
  );
}
