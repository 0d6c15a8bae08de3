import { sum } from './statistics.js';
import type { World } from '@blockbell/railway';
import { alarmsPerHour, meanDelayOf, punctualOf } from './build-report.js';
import { bookedStops } from '../session/booked-stops.js';
import { meanOf, type Mean } from './statistics.js';
import type { SessionResult } from '../session/session-result.js';

/** Two ways of running the same seeds side by side. */
export interface Comparison {
  /** Seeds that were run both ways. */
  readonly pairs: number;
  readonly lines: readonly ComparedLine[];
}

/** A figure of a session one way and the other, and the mean of the differences, seed by seed. */
export interface ComparedLine {
  readonly what: string;
  readonly unit: string;
  readonly first: number;
  readonly second: number;
  /** Second less first. */
  readonly difference: Mean;
  /** `unclear`: the interval of the difference holds zero. */
  readonly verdict: 'better' | 'worse' | 'same' | 'unclear';
}

interface Measure {
  readonly what: string;
  readonly unit: string;
  readonly of: (result: SessionResult) => number;
  /** Whether more of it is better. */
  readonly more?: true;
}

const MINUTE = 60_000;

const MEASURES: readonly Measure[] = [
  { what: 'delay at an arrival that came both ways', unit: 'min', of: meanDelayOf },
  {
    what: 'booked arrivals that did not come',
    unit: '',
    of: ({ late }) => late.filter((each) => each === null).length,
  },
  { what: 'arrivals within 3 min', unit: '%', of: (it) => punctualOf(it, 3), more: true },
  { what: 'arrivals within 5 min', unit: '%', of: (it) => punctualOf(it, 5), more: true },
  { what: 'waiting for other trains', unit: 'min', of: ({ delay }) => delay.knockOn / MINUTE },
  { what: 'services not run', unit: '', of: ({ notRun }) => notRun.length },
  {
    what: 'connections missed',
    unit: '',
    of: ({ connections }) => connections.filter((kept) => kept === false).length,
  },
  { what: 'alarms in an hour', unit: '', of: alarmsPerHour },
  { what: 'trains elsewhere at the end', unit: '', of: ({ elsewhere }) => elsewhere.length },
];

/** A stop booked both ways: its place among the booked stops of the one and of the other. */
export type CommonStop = readonly [number, number];

/** The stops that two timetables share: the same call of the same service. */
export function commonStops(first: World, second: World): CommonStop[] {
  const keysOf = ({ timetable }: World): string[] =>
    bookedStops(timetable).map(
      ({ service, call }) => `${timetable.services[service]!.file.id} ${call}`,
    );
  const others = new Map(keysOf(second).map((key, stop) => [key, stop]));
  return keysOf(first).flatMap((key, stop): CommonStop[] => {
    const other = others.get(key);
    return other === undefined ? [] : [[stop, other]];
  });
}

/** Two sessions, each with the arrivals alone that came in both: what never came can't be late. */
function arrivedInBoth(
  one: SessionResult,
  other: SessionResult,
  stops: readonly CommonStop[],
): [SessionResult, SessionResult] {
  const both = stops.filter(
    ([stop, same]) => (one.late[stop] ?? null) !== null && (other.late[same] ?? null) !== null,
  );
  return [
    { ...one, late: both.map(([stop]) => one.late[stop]!) },
    { ...other, late: both.map(([, same]) => other.late[same]!) },
  ];
}

/** Compares the seeds that were run both ways; `stops`: see {@link commonStops}. */
export function compareResults(
  first: readonly SessionResult[],
  second: readonly SessionResult[],
  stops: readonly CommonStop[],
): Comparison {
  const bySeed = new Map(second.map((it) => [it.seed, it]));
  const pairs = [...first]
    .sort((a, b) => a.seed - b.seed)
    .flatMap((one) => {
      const other = bySeed.get(one.seed);
      return other === undefined ? [] : [[one, other] as const];
    });
  const arrived = pairs.map(([one, other]) => arrivedInBoth(one, other, stops));
  const lines = MEASURES.map(({ what, unit, of, more }): ComparedLine => {
    const compared = of === meanDelayOf ? arrived : pairs;
    const ones = compared.map(([one]) => of(one));
    const others = compared.map(([, other]) => of(other));
    const difference = meanOf(others.map((value, pair) => value - ones[pair]!));
    const n = Math.max(1, pairs.length);
    return {
      what,
      unit,
      first: sum(ones) / n,
      second: sum(others) / n,
      difference,
      verdict: verdictOf(difference, more === true),
    };
  });
  return { pairs: pairs.length, lines };
}

function verdictOf({ mean, low, high }: Mean, more: boolean): ComparedLine['verdict'] {
  if (low === null || high === null) return 'unclear';
  if (low === 0 && high === 0) return 'same';
  if (low <= 0 && high >= 0) return 'unclear';
  return mean > 0 === more ? 'better' : 'worse';
}
