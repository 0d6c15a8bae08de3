import { clearDeadline, hasDeadline, setDeadline } from '../session/deadlines.js';
import type { Writer } from '../session/writer.js';
import { controlTrain } from './control.js';
import { standsFrom } from './reckoning.js';

/** Time beyond the longest stopping time before a train is proven standing, in ms. */
const STAND_MARGIN = 300;

/** Whether a train is proven standing: told to stop, its longest stopping time over, no edge since. */
export const stands = (w: Writer, index: number): boolean =>
  w.state.trains[index]!.reckoning.nominal.target === 0 && !hasDeadline(w.state, 'stand', index);

/** Arranges the proof of standing after a command to stop; takes it back when the train is told to run. */
export function awaitStanding(w: Writer, index: number): void {
  const until = standsFrom(w.world.models[index]!, w.state.trains[index]!.reckoning);
  if (until === null) clearDeadline(w.state, 'stand', index);
  else setDeadline(w.state, 'stand', index, Math.max(until, w.now) + STAND_MARGIN);
}

/** The longest stopping time is over. */
export function provenStanding(w: Writer, index: number): void {
  const train = w.train(index);
  w.state.dispatching.due = true;
  if (train.activity.kind !== 'moving') return;
  train.activity = { kind: 'standing' };
  train.waitingSince = w.now;
  controlTrain(w, index);
}
