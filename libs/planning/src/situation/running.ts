import {
  mm,
  mmPerS,
  runningTime,
  type MillimetresPerSecond,
  type Step,
  type Stretch,
  type Train,
} from '@blockbell/railway';

/** Faster than any train; stands for “as fast as it can there”. */
export const ANY_SPEED = mmPerS(1_000_000);
export const STANDING = mmPerS(0);

/** A stretch of way that a train's head runs over, in mm from the rear of `steps`. */
export interface Run {
  readonly steps: readonly Step[];
  readonly from: number;
  readonly to: number;
  readonly enters: MillimetresPerSecond;
  readonly leaves: MillimetresPerSecond;
}

/**
 * Running time over part of a run, physical ms: from its beginning until the head has come `distance` mm, braking in time
 * for the rest.
 */
export function timeOver(train: Train, run: Run, distance = run.to - run.from): number {
  const whole = stretchesOf(train, run.steps, run.from, run.to);
  const { enters, leaves } = run;
  const all = runningTime(whole, train, enters, leaves);
  if (distance >= run.to - run.from) return all;
  if (distance <= 0) return 0;
  // The rest is run backwards in time from the end, so that both parts add up to the whole.
  const rest = stretchesOf(train, run.steps, run.from + distance, run.to);
  return Math.max(0, all - runningTime(rest, train, ANY_SPEED, leaves));
}

/** The limits in force for the head, each from its entry into a step until the tail has left it. */
function stretchesOf(train: Train, steps: readonly Step[], from: number, to: number): Stretch[] {
  let start = 0;
  const zones = steps.map(({ leg }) => {
    const zone = { start, end: start + leg.length, limit: leg.speedLimit ?? train.topSpeed };
    start = zone.end;
    return zone;
  });
  const marks = new Set([from, to]);
  for (const { start, end } of zones)
    for (const place of [start, end + train.length])
      if (place > from && place < to) marks.add(place);
  const places = [...marks].sort((a, b) => a - b);
  return places.slice(1).map((end, i) => {
    const begin = places[i]!;
    const limit = zones.reduce<number>(
      (low, zone) =>
        zone.start < end && zone.end + train.length > begin ? Math.min(low, zone.limit) : low,
      train.topSpeed,
    );
    return { length: mm(end - begin), limit: mmPerS(limit) };
  });
}
