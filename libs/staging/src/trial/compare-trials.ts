import type { Trial, TriedStay } from './trial.js';

/** One line of two trials side by side: what is counted, and how much of it there is in each. */
export interface ComparedTrials {
  readonly what: string;
  readonly first: number;
  readonly second: number;
}

const MINUTE = 60_000;

/** What two rule sets make of the same timetable in one yard, side by side. Minutes are of the fast clock. */
export function compareTrials(first: Trial, second: Trial): readonly ComparedTrials[] {
  const lines = COUNTED.map(({ what, count }): ComparedTrials => ({
    what,
    first: count(first.stays),
    second: count(second.stays),
  }));
  const others = first.stays.filter(
    ({ rule, berth, sent }, at) =>
      rule !== null &&
      (berth !== second.stays[at]!.berth || sent?.to !== second.stays[at]!.sent?.to),
  ).length;
  return [
    ...lines,
    { what: 'arrivals put otherwise than by the other', first: others, second: others },
  ];
}

const COUNTED: readonly {
  readonly what: string;
  readonly count: (stays: readonly TriedStay[]) => number;
}[] = [
  {
    what: 'arrivals that get a track here',
    count: (stays) => count(stays, (it) => it.rule !== null && it.berth !== null),
  },
  { what: 'sent to another yard', count: (stays) => count(stays, (it) => it.sent !== null) },
  { what: 'find no track in the session', count: (stays) => count(stays, isLost) },
  { what: 'wait outside', count: (stays) => count(stays, (it) => it.waited > 0) },
  {
    what: 'minutes waited outside',
    count: (stays) => Math.round(stays.reduce((sum, it) => sum + it.waited, 0) / MINUTE),
  },
  { what: 'for whom a person is asked', count: (stays) => count(stays, (it) => it.asked) },
  {
    what: 'kept from leaving by another train',
    count: (stays) => count(stays, (it) => it.buriedBy.length > 0),
  },
];

const count = (stays: readonly TriedStay[], isOne: (stay: TriedStay) => boolean): number =>
  stays.filter(isOne).length;

/** A train that was there, or came, and got no place; one that never came in the session is not among them. */
const isLost = ({ berth, sent, waited }: TriedStay): boolean =>
  berth === null && sent === null && waited > 0;
