import type { World } from '@blockbell/railway';
import type { LateDeparture } from '@blockbell/rehearsals';
import { forkStream, nextBetween, type Fault } from '@blockbell/simulation';

/** Ordinary things that go wrong in a session, drawn from a seed alone: the same for every way of dispatching. */
export interface Disturbances {
  /** Trains that stand still on the way for a while. */
  readonly faults: readonly Fault[];
  readonly lateDepartures: readonly LateDeparture[];
}

/** Of a hundred services so many begin late, and of a hundred calls on the way so many take longer. */
const LATE_STARTS = 30;
const LONG_CALLS = 15;
/** By how much, physical ms: at a ratio of 6 one to six minutes of the fast clock, and a half to three. */
const START_BY = [10_000, 60_000] as const;
const CALL_BY = [5000, 30_000] as const;
const STALLS = 2;
const STALL_LASTS = [15_000, 40_000] as const;

export function disturbancesOf({ timetable, stock }: World, seed: number): Disturbances {
  const random = forkStream(seed, 'disturbances');
  const lateDepartures = timetable.services.flatMap(({ calls }, service) =>
    calls.flatMap(({ stops }, call): LateDeparture[] => {
      const draw = nextBetween(random, 1, 100);
      const start = nextBetween(random, ...START_BY);
      const stay = nextBetween(random, ...CALL_BY);
      if (!stops || call === calls.length - 1) return [];
      if (draw > (call === 0 ? LATE_STARTS : LONG_CALLS)) return [];
      return [{ service, call, by: call === 0 ? start : stay }];
    }),
  );
  const working = stock.trains.filter(({ index }) => timetable.workings[index] !== null);
  const length = Math.round((timetable.end - timetable.start) / timetable.ratio);
  const faults = Array.from({ length: STALLS }, (): Fault => {
    const { index: train } = working[nextBetween(random, 0, working.length - 1)]!;
    const at = nextBetween(random, 60_000, length);
    return { kind: 'stall', at, duration: nextBetween(random, ...STALL_LASTS), train };
  });
  return { faults, lateDepartures };
}
