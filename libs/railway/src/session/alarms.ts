import { fastNow } from '../timetable/fast-clock.js';
import type { Writer } from './writer.js';

/** Raises an alarm, once per `key` while it stands. `mend` says what a person should do. */
export function raiseAlarm(w: Writer, key: string, text: string, mend: string): void {
  if (w.state.alarms.some((alarm) => alarm.key === key && alarm.clearedAt === null)) return;
  const id = w.state.nextAlarm++;
  w.state.alarms.push({
    id,
    key,
    text,
    mend,
    raisedAt: w.now,
    raisedFast: fastNow(w.state.session.clock, w.now),
    clearedAt: null,
    acknowledgedBy: null,
  });
  w.state.counts.alarms++;
  w.changes.alarms.add(id);
  w.effects.push({ kind: 'alarm', alarm: id, raised: true, text });
}

/** Marks an alarm's cause as gone. */
export function clearAlarm(w: Writer, key: string): void {
  for (const alarm of w.state.alarms) {
    if (alarm.key !== key || alarm.clearedAt !== null) continue;
    alarm.clearedAt = w.now;
    w.changes.alarms.add(alarm.id);
    w.effects.push({ kind: 'alarm', alarm: alarm.id, raised: false, text: alarm.text });
  }
  forgetOldAlarms(w);
}

const KEPT = 200;

/** Keeps the list short: drops the oldest that are both cleared and acknowledged, then merely cleared. */
function forgetOldAlarms(w: Writer): void {
  const alarms = w.state.alarms;
  while (alarms.length > KEPT) {
    const settled = alarms.findIndex((a) => a.clearedAt !== null && a.acknowledgedBy !== null);
    const at = settled >= 0 ? settled : alarms.findIndex((a) => a.clearedAt !== null);
    if (at < 0) return;
    alarms.splice(at, 1);
  }
}

export function acknowledgeAlarm(w: Writer, id: number, by: string): boolean {
  const alarm = w.state.alarms.find((candidate) => candidate.id === id);
  if (alarm === undefined) return false;
  alarm.acknowledgedBy = by;
  w.changes.alarms.add(id);
  return true;
}
