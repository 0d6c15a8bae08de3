import { delayWeight, searchPlan, ticks } from '@blockbell/planning';
import {
  parseClockText,
  type LayoutFile,
  type StockFile,
  type TimetableFile,
  type World,
} from '@blockbell/railway';
import type { Plan } from '@blockbell/scheduling';
import { applyChanges, changesBetween } from '../booking/times.js';
import { TimetableChecker, type ExaminedTimetable } from '../check-timetable.js';
import { chooseWays } from '../conflicts/choose-ways.js';
import type { Finding, FindingKind, TimeChange } from '../findings/finding.js';
import { cheaperChanges } from './cheaper-changes.js';
import { latestTimes } from './latest-times.js';
import { leastShift } from './least-shift.js';
import { shiftProblem, type ShiftBounds, type ShiftProblem } from './shift-problem.js';
import { writeTrips } from './write-trips.js';

const MINUTE = 60_000;

/** Ways are chosen as if track were held so much longer, fast ms, so that trains can be moved without another choice. */
const MARGINS = [0, 2 * MINUTE, 5 * MINUTE, 10 * MINUTE];

/** How departures may be moved. */
export interface MendOptions {
  /** No departure earlier than so many minutes of the fast clock before what is booked, or later after it. */
  readonly earlier: number;
  readonly later: number;
  /** Work on one search, in the planner's own steps. */
  readonly effort: number;
}

export const USUAL_MENDING: MendOptions = { earlier: 0, later: 30, effort: 6_000_000 };

export type MendedTimetable =
  | {
      readonly ok: true;
      readonly timetable: TimetableFile;
      readonly changes: readonly TimeChange[];
      /** Minutes by which booked times were moved, in all. */
      readonly minutes: number;
      /** The same, each times the weight of its train: nine less its priority. */
      readonly weighted: number;
      /**
       * What no change by whole minutes can cost less than, with the weights: where that is `weighted`, it is proven that there is none
       * that is less. Null: nothing is known, for the change is not by whole minutes or the timetable is too large.
       */
      readonly least: number | null;
    }
  | {
      readonly ok: false;
      readonly text: string;
      readonly mend: string;
      /** What still can't be kept. */
      readonly findings: readonly Finding[];
    };

/** What no change of times mends. */
const BEYOND_TIMES: readonly FindingKind[] = ['workings-apart', 'too-long', 'no-way'];

/** Plans are made so often, each from the rounded times of the one before; then what is left is mended as proposed. */
const PLANS = 3;
const MOST_ROUNDS = 15;
/** Cheaper changes are all tried where they have no more trips to look at than this together. */
const MOST_TRIED = 6000;

/**
 * Moves departures and arrivals so that nothing is found any more, by as little as the planner finds: the sum of all shifts,
 * each times the weight of its train. The ways are those the check has chosen; the planner decides who goes first.
 * Layout and stock must be sound, the timetable without faults of form.
 */
export function mendTimetable(
  layout: LayoutFile,
  stock: StockFile,
  timetable: TimetableFile,
  options: MendOptions = USUAL_MENDING,
): MendedTimetable {
  const checker = new TimetableChecker(layout, stock);
  const first = checker.examine(timetable);
  const beyond = first.findings.filter(({ kind }) => BEYOND_TIMES.includes(kind));
  if (beyond.length > 0)
    return {
      ok: false,
      text: 'Some of what is found no change of times can mend.',
      mend: 'Mend these first, by hand.',
      findings: beyond,
    };
  const bounds = { earlier: options.earlier * MINUTE, later: options.later * MINUTE };
  for (const grain of new Set([first.grain, 1000])) {
    let examined = first;
    let file = timetable;
    for (let round = 0; examined.findings.length > 0 && round < MOST_ROUNDS; round++) {
      const moved =
        round < PLANS
          ? moveTimes(examined, file, bounds, options.effort, grain)
          : applyChanges(file, oneEach(examined.findings));
      if (moved === null || moved === file) break;
      file = moved;
      examined = checker.examine(file);
    }
    if (examined.findings.length > 0 || !isWithin(timetable, file, bounds)) continue;
    const mended = { ok: true, timetable: file, ...sumOf(first.world, timetable, file) } as const;
    if (grain < MINUTE) return { ...mended, least: null };
    const tried = tryCheaper(checker, first, timetable, bounds, mended.weighted);
    if (tried === null)
      return { ...mended, least: leastShift(first, bounds, mended.weighted, options.effort) };
    const best = { ...mended, timetable: tried, ...sumOf(first.world, timetable, tried) };
    return tried === timetable
      ? { ...mended, least: mended.weighted }
      : { ...best, least: best.weighted };
  }
  return {
    ok: false,
    text: `No plan was found with departures at most ${options.earlier} min earlier and ${options.later} min later.`,
    mend: 'Let departures move further, or change what the findings name.',
    findings: first.findings,
  };
}

/**
 * The timetable with the cheapest of all changes by whole minutes that cost less than `cost` and mend it; as it is where none does, null
 * where they are too many to try, or a change may go both ways.
 */
function tryCheaper(
  checker: TimetableChecker,
  { world, trips }: ExaminedTimetable,
  timetable: TimetableFile,
  bounds: ShiftBounds,
  cost: number,
): TimetableFile | null {
  if (bounds.earlier > 0) return null;
  const size = trips.reduce((sum, own) => sum + own.length, 1);
  const weights = weightsOf(world);
  const weightOf = (service: string): number => weights.get(service) ?? 1;
  const cheaper = cheaperChanges(timetable, weightOf, cost, Math.floor(MOST_TRIED / size));
  if (cheaper === null) return null;
  let best = { file: timetable, cost };
  for (const { changes, cost: costs } of cheaper) {
    if (costs >= best.cost) continue;
    const file = applyChanges(timetable, changes);
    if (!isWithin(timetable, file, bounds) || checker.faultsOf(file).length > 0) continue;
    if (checker.examine(file).findings.length === 0) best = { file, cost: costs };
  }
  return best.file;
}

/** The changes proposed for what was found, no service changed twice. */
function oneEach(findings: readonly Finding[]): TimeChange[] {
  const changed = new Set<string>();
  return findings.flatMap(({ proposal: { changes } }) => {
    if (changes.some(({ service }) => changed.has(service))) return [];
    for (const { service } of changes) changed.add(service);
    return changes;
  });
}

/** The timetable with the times of the planner's answer, rounded up; null where it has none. */
function moveTimes(
  examined: ExaminedTimetable,
  file: TimetableFile,
  bounds: ShiftBounds,
  effort: number,
  grain: number,
): TimetableFile | null {
  const { world } = examined;
  const planned = planShift(examined, bounds, effort);
  if (planned === null) return null;
  const { shift, plan } = planned;
  const { start, ratio } = world.timetable;
  const inTicks = (fast: number | null): number | null =>
    fast === null ? null : ticks((fast - start) / ratio);
  const booked = shift.trips.map((own) =>
    own.map(({ chosen: { trip } }) => ({
      depart: inTicks(trip.depart),
      arrive: inTicks(trip.arrive),
    })),
  );
  const times = latestTimes(shift, plan, booked);
  const changes = shift.trips.flatMap((own, train) =>
    writeTrips(
      world,
      own.map(({ chosen }, i) => ({ ...chosen, planned: times[train]![i]! })),
      grain,
    ),
  );
  return applyChanges(file, changes);
}

/** The cheapest plan found over ways that leave trains more or less room to move; null where there is none. */
function planShift(
  { world, courses }: ExaminedTimetable,
  bounds: ShiftBounds,
  effort: number,
): { readonly shift: ShiftProblem; readonly plan: Plan } | null {
  let best: { readonly shift: ShiftProblem; readonly plan: Plan } | null = null;
  for (const margin of MARGINS) {
    const shift = shiftProblem({ world }, chooseWays(world, courses, margin), bounds);
    const plan = searchPlan(shift, shift.wish, effort);
    if (plan !== null && plan.objectiveValue < (best?.plan.objectiveValue ?? Infinity))
      best = { shift, plan };
    if (plan?.objectiveValue === 0) break;
  }
  return best;
}

/** Whether no departure has moved further than it may. */
function isWithin(before: TimetableFile, after: TimetableFile, bounds: ShiftBounds): boolean {
  return changesBetween(before, after).every(({ what, from, to }) => {
    const by = minutesBetween(from, to) * MINUTE;
    return what === 'arrive' || (by <= bounds.later && -by <= bounds.earlier);
  });
}

const minutesBetween = (from: string, to: string): number =>
  (parseClockText(to)! - parseClockText(from)!) / MINUTE;

/** What a minute of a service costs, by its id. */
function weightsOf({ stock, timetable }: World): ReadonlyMap<string, number> {
  const weights = new Map<string, number>();
  timetable.workings.forEach((working, train) =>
    working?.services.forEach((service) => {
      const { priority } = stock.trains[train]!.file;
      weights.set(timetable.services[service]!.file.id, delayWeight(priority));
    }),
  );
  return weights;
}

function sumOf(
  world: World,
  before: TimetableFile,
  after: TimetableFile,
): { changes: TimeChange[]; minutes: number; weighted: number } {
  const changes = changesBetween(before, after);
  const weightOf = weightsOf(world);
  let minutes = 0;
  let weighted = 0;
  for (const { service, from, to } of changes) {
    const by = Math.abs(minutesBetween(from, to));
    minutes += by;
    weighted += by * (weightOf.get(service) ?? 1);
  }
  return { changes, minutes, weighted };
}
