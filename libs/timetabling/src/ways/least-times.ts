import type { TrainWays } from './permitted-ways.js';

/** The least time over any permitted way, fast ms: to the arrival, and to each call passed, by leg. */
export interface LeastTimes {
  readonly run: number;
  readonly passes: ReadonlyMap<number, number>;
}

/** By trip. */
export function leastTimes(ways: TrainWays, ratio: number): LeastTimes[] {
  return ways.map((from) => {
    const all = [...from.values()].flat();
    const passes = new Map<number, number>();
    for (const way of all)
      for (const [leg, at] of way.passes)
        passes.set(leg, Math.min(passes.get(leg) ?? Infinity, Math.ceil(at * ratio)));
    return { run: Math.ceil(Math.min(...all.map(({ run }) => run)) * ratio), passes };
  });
}

const NONE: LeastTimes = { run: 0, passes: new Map() };

/** Those of one trip; nothing where its ways are not known. */
export const least = (times: readonly LeastTimes[], trip: number): LeastTimes =>
  times[trip] ?? NONE;
