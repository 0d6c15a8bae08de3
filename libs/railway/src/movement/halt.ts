import { showSignals } from '../interlocking/signals.js';
import { clearAlarm, raiseAlarm } from '../session/alarms.js';
import { clearDeadline } from '../session/deadlines.js';
import type { Writer } from '../session/writer.js';
import { awaitDrawingUp, awaitStanding } from './standing.js';
import { commandSpeed } from './train-motion.js';

/** Tells a train to brake to a stand at once, leaving what it holds locked. */
export function brake(w: Writer, index: number): void {
  commandSpeed(w, index, 0);
  clearDeadline(w.state, 'profile', index);
  clearDeadline(w.state, 'overdue', index);
  awaitStanding(w, index);
}

/** Stops a train for a fault. It keeps all its track and goes on only when a person says so. */
export function halt(w: Writer, index: number, why: string, mend: string): void {
  const train = w.train(index);
  if (train.activity.kind === 'absent') return;
  brake(w, index);
  train.activity = { kind: 'halted', why };
  showSignals(w, index);
  const { label } = w.world.stock.trains[index]!.file;
  raiseAlarm(w, `train:${index}`, `${label} was stopped: ${why}.`, mend);
  w.log(`${label} was stopped: ${why}.`, index);
  w.state.dispatching.due = true;
}

/**
 * A person has seen to a halted train. It may have stalled far short of where it was reckoned: when the section ahead
 * still reads free after a while, it is known better.
 */
export function clearHalt(w: Writer, index: number): void {
  w.train(index).activity = { kind: 'standing' };
  awaitDrawingUp(w, index);
  showSignals(w, index);
  clearAlarm(w, `train:${index}`);
}
