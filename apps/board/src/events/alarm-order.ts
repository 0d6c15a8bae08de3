import type { AlarmView } from '@blockbell/contract/messages';

/** Of the live board's list of alarms on the page. */
export const ALARMS_ID = 'alarms';

/** Whether an alarm still waits for somebody to take note of it. */
export const needsEyes = ({ acknowledgedBy }: AlarmView): boolean => acknowledgedBy === null;

/** Whether nothing is left to be done about it. */
const isOver = ({ clearedAt, acknowledgedBy }: AlarmView): boolean =>
  clearedAt !== null && acknowledgedBy !== null;

const lasts = ({ clearedAt }: AlarmView): boolean => clearedAt === null;

/** Alarms to show: unacknowledged first, then what still lasts, then the newest; what is over leaves the list. */
export const alarmsToShow = (alarms: Iterable<AlarmView>): readonly AlarmView[] =>
  [...alarms]
    .filter((alarm) => !isOver(alarm))
    .toSorted(
      (p, q) =>
        Number(needsEyes(q)) - Number(needsEyes(p)) ||
        Number(lasts(q)) - Number(lasts(p)) ||
        q.id - p.id,
    );
