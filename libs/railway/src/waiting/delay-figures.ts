import type { Layout } from '../layout/layout.js';
import { trackText } from '../session/explain.js';
import type { Timetable } from '../timetable/timetable.js';
import type { DelayParts } from './delay-ledger.js';

/** A call as run, as far as delays are concerned; fast ms. */
export interface RunCall {
  readonly service: number;
  readonly call: number;
  readonly arrived: number | null;
  readonly delay: DelayParts | null;
}

/** Delay handed on to other trains, fast ms. */
export interface KnockOn<Of> {
  readonly of: Of;
  readonly time: number;
}

/** How late a session ran and whose doing that was; fast ms. */
export interface DelayFigures {
  /** Arrivals with a booked time, and those not more than three and five minutes late, as punctuality is customarily counted. */
  readonly arrivals: number;
  readonly within3: number;
  readonly within5: number;
  /**
   * Sums over the services, each as of its last arrival: what they brought from services before, what was their own (waits for no
   * other train included), what they waited for other trains, what they made up, and how late they were.
   */
  readonly entry: number;
  readonly own: number;
  readonly knockOn: number;
  readonly recovered: number;
  readonly late: number;
  /** Time that other trains waited, by the train waited for and by the place in words, the longest first. */
  readonly byTrain: readonly KnockOn<number>[];
  readonly byPlace: readonly KnockOn<string>[];
}

const MINUTE = 60_000;

/** Works a session's figures out from its calls as run, by train. */
export function delayFigures(
  layout: Layout,
  timetable: Timetable,
  runs: Iterable<readonly RunCall[]>,
): DelayFigures {
  const late: number[] = [];
  const byTrain = new Map<number, number>();
  const byPlace = new Map<string, number>();
  let [entry, own, knockOn, recovered, lateLast] = [0, 0, 0, 0, 0];
  for (const calls of runs) {
    /** By service: its last arrival. */
    const last = new Map<number, { readonly delay: DelayParts; readonly late: number }>();
    for (const { service, call, arrived, delay } of calls) {
      const booked = timetable.services[service]?.calls[call]?.arrive ?? null;
      if (arrived === null || booked === null) continue;
      late.push(Math.round(arrived) - booked);
      if (delay !== null) last.set(service, { delay, late: late.at(-1)! });
    }
    for (const { delay, late: at } of last.values()) {
      entry += delay.entry;
      own += delay.own;
      recovered += delay.recovered;
      lateLast += at;
      for (const { train, place, time } of delay.lost) {
        if (train < 0) {
          own += time;
          continue;
        }
        knockOn += time;
        add(byTrain, train, time);
        add(byPlace, place < 0 ? 'elsewhere' : trackText(layout, place), time);
      }
    }
  }
  return {
    arrivals: late.length,
    within3: late.filter((it) => it <= 3 * MINUTE).length,
    within5: late.filter((it) => it <= 5 * MINUTE).length,
    entry,
    own,
    knockOn,
    recovered,
    late: lateLast,
    byTrain: longestFirst(byTrain),
    byPlace: longestFirst(byPlace),
  };
}

function add<Of>(sums: Map<Of, number>, of: Of, time: number): void {
  sums.set(of, (sums.get(of) ?? 0) + time);
}

const longestFirst = <Of extends number | string>(sums: Map<Of, number>): KnockOn<Of>[] =>
  [...sums]
    .map(([of, time]) => ({ of, time }))
    .sort((a, b) => b.time - a.time || (a.of < b.of ? -1 : 1));
