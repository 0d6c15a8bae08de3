import { releaseTime } from '@blockbell/planning';
import type { Layout } from '@blockbell/railway';
import type { Trip } from '../booking/trips.js';
import type { Way } from '../ways/way.js';

/** Track held by a train over a span of the fast clock, ms. */
export interface Hold {
  readonly resource: number;
  readonly from: number;
  readonly to: number;
}

/**
 * How a train uses the time booked for a trip that is longer than it needs: `swift` runs as fast as it can and stands
 * longer where it arrives; `even` runs so much slower all the way.
 */
export type Pace = 'swift' | 'even';

/** When a trip leaves, arrives, and leaves again; fast ms. */
export interface TripTimes {
  readonly departs: number;
  readonly arrives: number;
  /** Infinity after the last trip. */
  readonly leaves: number;
}

/** How long each resource stays taken after a train has left it, fast ms. */
export function releaseTimes(layout: Layout, ratio: number): (resource: number) => number {
  const known = new Map<number, number>();
  return (resource) => {
    const found = known.get(resource) ?? Math.ceil(releaseTime(layout, resource) * ratio);
    known.set(resource, found);
    return found;
  };
}

/**
 * Blocking times of a trip over one way, and of the stand after it until the next departure.
 * @param since from when the train stands where the trip begins; null where the trip before has told so
 */
export function occupationOf(
  trip: Trip,
  way: Way,
  pace: Pace,
  times: TripTimes,
  ratio: number,
  release: (resource: number) => number,
  since: number | null,
): Hold[] {
  const at = pace === 'swift' ? swiftly(times, ratio) : evenly(trip, way, times, ratio);
  const holds: Hold[] = [];
  const open = new Map<number, number>();
  const close = (resource: number, to: number): void => {
    holds.push({ resource, from: open.get(resource)!, to: to + release(resource) });
    open.delete(resource);
  };
  const step = (held: readonly number[], from: number): void => {
    const still = new Set(held);
    for (const resource of open.keys()) if (!still.has(resource)) close(resource, from);
    for (const resource of held) if (!open.has(resource)) open.set(resource, from);
  };
  if (since !== null) step(way.before, since);
  for (const { from, holds: held } of way.segments) step(held, at(from));
  const arrived = at(way.arrived);
  step(way.after, arrived);
  for (const resource of open.keys()) close(resource, Math.max(arrived, times.leaves));
  return holds;
}

const swiftly =
  ({ departs }: TripTimes, ratio: number) =>
  (offset: number): number =>
    departs + offset * ratio;

/** Through the booked times at calls passed and at the arrival, evenly between them; never faster than it can. */
function evenly(
  { passes }: Trip,
  way: Way,
  { departs, arrives }: TripTimes,
  ratio: number,
): (offset: number) => number {
  const fixed = [{ offset: 0, time: departs }];
  const points = [
    ...passes.map(({ leg, at }) => ({ offset: way.passes.get(leg) ?? 0, time: at })),
    { offset: way.arrived, time: arrives },
  ];
  for (const { offset, time } of points) {
    const last = fixed.at(-1)!;
    if (offset > last.offset)
      fixed.push({ offset, time: Math.max(time, last.time + (offset - last.offset) * ratio) });
  }
  return (offset) => {
    const next = fixed.findIndex((point) => point.offset >= offset);
    if (next <= 0) return departs;
    const [a, b] = [fixed[next - 1]!, fixed[next]!];
    return a.time + ((offset - a.offset) * (b.time - a.time)) / (b.offset - a.offset);
  };
}
