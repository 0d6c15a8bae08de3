import type { AlarmView } from '@blockbell/contract/messages';

/** Whether an alarm still waits for somebody to take note of it. */
export const needsEyes = ({ acknowledgedBy }: AlarmView): boolean => acknowledgedBy === null;

/** Whether nothing is left to be done about it. */
const isOver = ({ clearedAt, acknowledgedBy }: AlarmView): boolean =>
  clearedAt !== null && acknowledgedBy !== null;

/** Alarms to show: unacknowledged first, newest first among equals; what is over leaves the list. */
export const alarmsToShow = (alarms: Iterable<AlarmView>): readonly AlarmView[] =>
  [...alarms]
    .filter((alarm) => !isOver(alarm))
    .toSorted((p, q) => Number(needsEyes(q)) - Number(needsEyes(p)) || q.id - p.id);
