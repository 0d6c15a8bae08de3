import { clearAlarm } from '../session/alarms.js';
import type { Writer } from '../session/writer.js';

/** The alarm by which a person is asked for the track of a train. */
export const yardAlarm = (index: number): string => `yard:${index}`;

/** A train waits before a yard no longer: it has a way, a person chose for it, or the yard is worked otherwise. */
export function forgetWait(w: Writer, index: number): void {
  if (w.state.staging.waits[index] === null) return;
  w.state.staging.waits[index] = null;
  clearAlarm(w, yardAlarm(index));
}
