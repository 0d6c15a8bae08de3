import { contentHash, type World } from '@blockbell/railway';
import { bookedStops } from '../session/booked-stops.js';
import type { RehearsalPlan } from '../session/rehearse-once.js';
import type { SessionResult } from '../session/session-result.js';
import { connectionLines, histogramOf, openLines, placeLines, serviceLines } from './arrivals.js';
import type { RehearsalReport } from './report.js';
import { meanOf, spreadOf, sum, wilson } from './statistics.js';
import { waitsByPlace, waitsByTrain } from './waits.js';
import { yardLines } from './yards.js';

const MINUTE = 60_000;
const HOUR = 3_600_000;

/** The report of the sessions that were run, in whatever order; `asked`: how many there were to be. */
export function buildReport(
  { layout, timetable, disturbances, dispatching, rules, returns }: RehearsalPlan,
  world: World,
  results: readonly SessionResult[],
  asked: number,
): RehearsalReport {
  const sorted = [...results].sort((a, b) => a.seed - b.seed);
  const stops = bookedStops(world.timetable);
  const arrived = sorted.map(({ late }) => late.filter((each) => each !== null));
  const all = arrived.flat().map((ms) => ms / MINUTE);
  const term = (name: keyof SessionResult['delay']): RehearsalReport['meanDelay'] =>
    meanOf(
      sorted.map(({ delay }) => delay[name] / MINUTE),
      0,
    );
  return {
    kind: 'blockbell-rehearsals',
    version: 1,
    railway: layout.name,
    timetable: timetable.name,
    disturbances: disturbances.name ?? 'own',
    dispatching,
    rules: rules?.name ?? null,
    returns: returns === true,
    asked,
    sessions: sorted.length,
    seeds: sorted.length === 0 ? null : { first: sorted[0]!.seed, last: sorted.at(-1)!.seed },
    ended: sorted.filter(({ ended }) => ended).length,
    punctuality: {
      within3: percentOf(sorted, 3),
      within5: percentOf(sorted, 5),
    },
    lateness: spreadOf(all),
    histogram: histogramOf(all),
    meanDelay: meanOf(sorted.map(meanDelayOf), 0),
    delay: {
      entry: term('entry'),
      own: term('own'),
      knockOn: term('knockOn'),
      recovered: term('recovered'),
    },
    services: serviceLines(world, stops, sorted),
    open: openLines(world, sorted),
    places: placeLines(world, stops, sorted),
    connections: connectionLines(world, sorted),
    waits: { byPlace: waitsByPlace(world, sorted), byTrain: waitsByTrain(world, sorted) },
    yards: yardLines(world, sorted),
    alarms: {
      perHour: meanOf(sorted.map(alarmsPerHour), 0),
      kinds: alarmKinds(sorted),
    },
    ends: endsOf(world, sorted),
    violations: sum(sorted.map(({ violations }) => violations)),
    digest: contentHash(sorted.map(({ seed, digest }) => [seed, digest])),
  };
}

const percentOf = (
  results: readonly SessionResult[],
  minutes: number,
): RehearsalReport['meanDelay'] =>
  meanOf(
    results.map((it) => punctualOf(it, minutes)),
    0,
    100,
  );

/** Percent of a session's booked arrivals not more than so many minutes late; one that never came is not punctual. */
export const punctualOf = ({ late }: SessionResult, minutes: number): number =>
  late.length === 0
    ? 100
    : (100 * late.filter((each) => each !== null && each <= minutes * MINUTE).length) / late.length;

/** Mean delay at a session's arrivals, minutes; early arrivals count as not late. */
export function meanDelayOf({ late }: SessionResult): number {
  const arrived = late.filter((each) => each !== null);
  return arrived.length === 0
    ? 0
    : sum(arrived.map((each) => Math.max(0, each))) / arrived.length / MINUTE;
}

/** Alarms in an hour of running. */
export const alarmsPerHour = ({ alarms, duration }: SessionResult): number =>
  (sum(Object.values(alarms)) * HOUR) / duration;

function alarmKinds(results: readonly SessionResult[]): RehearsalReport['alarms']['kinds'] {
  const totals = new Map<string, number>();
  for (const { alarms } of results) {
    for (const [kind, count] of Object.entries(alarms)) {
      totals.set(kind, (totals.get(kind) ?? 0) + count);
    }
  }
  return [...totals]
    .map(([kind, count]) => ({ kind, perSession: count / results.length }))
    .sort((a, b) => b.perSession - a.perSession || (a.kind < b.kind ? -1 : 1));
}

function endsOf({ stock }: World, results: readonly SessionResult[]): RehearsalReport['ends'] {
  const n = results.length;
  const elsewhere = stock.trains.map(({ file, index }) => ({
    train: file.label,
    share: wilson(results.filter((it) => it.elsewhere.includes(index)).length, n),
  }));
  return {
    asBegan: wilson(results.filter(({ elsewhere }) => elsewhere.length === 0).length, n),
    elsewhere: elsewhere
      .filter(({ share }) => share.hits > 0)
      .sort((a, b) => b.share.hits - a.share.hits || (a.train < b.train ? -1 : 1)),
  };
}
