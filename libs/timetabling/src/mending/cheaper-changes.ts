import { parseClockText, type TimetableFile } from '@blockbell/railway';
import { writeTime } from '../booking/times.js';
import type { TimeChange } from '../findings/finding.js';

const MINUTE = 60_000;

/** A booked time that can be made later, and what a minute of that costs. */
interface BookedTime {
  readonly at: Omit<TimeChange, 'from' | 'to'>;
  readonly from: string;
  readonly weight: number;
}

export interface CostedChanges {
  readonly changes: readonly TimeChange[];
  readonly cost: number;
}

/**
 * Every way to make booked times later by whole minutes that costs less than `cost`; null where there are more than `most`.
 * @param weightOf what a minute of a service costs, by its id
 */
export function cheaperChanges(
  { services }: TimetableFile,
  weightOf: (service: string) => number,
  cost: number,
  most: number,
): Iterable<CostedChanges> | null {
  const times = services.flatMap(({ id, calls }) =>
    calls.flatMap((call, index) =>
      (['arrive', 'depart'] as const).flatMap((what): BookedTime[] => {
        const from = call[what];
        const at = { service: id, call: index, what };
        return from === undefined ? [] : [{ at, from, weight: weightOf(id) }];
      }),
    ),
  );
  return countBelow(times, cost) > most ? null : below(times, cost);
}

/** How many there are. */
function countBelow(times: readonly BookedTime[], cost: number): number {
  const ways = Array.from({ length: Math.max(0, cost) }, (_, spent): number =>
    spent === 0 ? 1 : 0,
  );
  for (const { weight } of times)
    for (let spent = weight; spent < cost; spent++) ways[spent]! += ways[spent - weight]!;
  return ways.reduce((sum, count) => sum + count, 0);
}

function* below(times: readonly BookedTime[], cost: number, first = 0): Generator<CostedChanges> {
  yield { changes: [], cost: 0 };
  for (let next = first; next < times.length; next++) {
    const { at, from, weight } = times[next]!;
    for (let minutes = 1; minutes * weight < cost; minutes++) {
      const to = writeTime(parseClockText(from)! + minutes * MINUTE);
      for (const rest of below(times, cost - minutes * weight, next + 1))
        yield {
          changes: [{ ...at, from, to }, ...rest.changes],
          cost: minutes * weight + rest.cost,
        };
    }
  }
}
