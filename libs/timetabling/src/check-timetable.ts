import {
  checkTimetableForm,
  checkWays,
  compileLayout,
  compileStock,
  compileWorld,
  compileTimetable,
  type Fault,
  type Layout,
  type LayoutFile,
  type Stock,
  type StockFile,
  type TimetableFile,
  type World,
} from '@blockbell/railway';
import { grainOf } from './booking/times.js';
import { tripsOf, type Trip } from './booking/trips.js';
import { checkLengths } from './checks/lengths.js';
import { checkRoom } from './checks/room.js';
import { checkRunningTimes } from './checks/running-times.js';
import { checkStays } from './checks/stays.js';
import { checkSession, checkTransfers, checkWorkings } from './checks/workings.js';
import { chooseWays, type ChosenWay, type TrainCourse } from './conflicts/choose-ways.js';
import { findConflicts } from './conflicts/find-conflicts.js';
import type { Finding } from './findings/finding.js';
import { leastTimes } from './ways/least-times.js';
import { permittedWays, type TrainWays } from './ways/permitted-ways.js';

export interface TimetableCheck {
  /** Faults of form; when there is one, nothing else was looked at. */
  readonly faults: readonly Fault[];
  /** What breaks the timetable first, then by time. */
  readonly findings: readonly Finding[];
}

/** A timetable looked at, with the ways chosen for its trains. */
export interface ExaminedTimetable {
  readonly world: World;
  readonly grain: number;
  readonly trips: readonly (readonly Trip[])[];
  /** By train; null for one that has no work, or can't do it even alone. */
  readonly courses: readonly (TrainCourse | null)[];
  readonly chosen: readonly (readonly ChosenWay[])[];
  readonly findings: readonly Finding[];
}

/**
 * Everything in a timetable that trains can't keep, each with its place, its time and what would mend it. Layout and
 * stock must be sound.
 */
export const checkTimetable = (
  layout: LayoutFile,
  stock: StockFile,
  timetable: TimetableFile,
): TimetableCheck => new TimetableChecker(layout, stock).check(timetable);

/**
 * Checks one timetable after another against the same layout and stock. While only times change, the ways and running times
 * of the last one still hold, and a check is quick.
 */
export class TimetableChecker {
  readonly #compiled: { readonly layout: Layout; readonly stock: Stock };
  #shape = '';
  #world: World | null = null;
  #ways: readonly (TrainWays | null)[] = [];

  constructor(
    private readonly layout: LayoutFile,
    private readonly stock: StockFile,
  ) {
    this.#compiled = { layout: compileLayout(layout), stock: compileStock(stock) };
  }

  check(timetable: TimetableFile): TimetableCheck {
    const faults = this.faultsOf(timetable);
    return { faults, findings: faults.length > 0 ? [] : this.examine(timetable).findings };
  }

  /** Faults of form, with which nothing can be examined. */
  faultsOf(timetable: TimetableFile): readonly Fault[] {
    const { layout, stock } = this.#compiled;
    return checkTimetableForm(timetable, layout, stock);
  }

  /** @param timetable without faults of form */
  examine(timetable: TimetableFile): ExaminedTimetable {
    const shape = JSON.stringify(withoutTimes(timetable));
    if (this.#world === null || shape !== this.#shape) {
      const world = compileWorld(this.layout, this.stock, timetable);
      this.#world = world;
      this.#shape = shape;
      this.#ways = world.graphs.map((_, train) => waysOf(world, train));
    }
    const { layout, stock } = this.#world;
    const compiled = compileTimetable(timetable, layout, stock);
    return examine({ ...this.#world, timetable: compiled }, this.#ways, timetable);
  }
}

/** What ways and running times follow from. */
const withoutTimes = ({ services, ...file }: TimetableFile): object => ({
  ...file,
  services: services.map(({ id, calls }) => ({
    id,
    calls: calls.map(({ station, stop, tracks }) => ({ station, stop, tracks })),
  })),
});

function waysOf(world: World, train: number): TrainWays | null {
  const trips = tripsOf(world, train);
  return trips.length === 0 ? null : permittedWays(world, train, trips);
}

function examine(
  world: World,
  ways: readonly (TrainWays | null)[],
  file: TimetableFile,
): ExaminedTimetable {
  const grain = grainOf(file);
  const trips = world.graphs.map((_, train) => tripsOf(world, train));
  const apart = [...checkWorkings(world), ...checkLengths(world)];
  const noWay = findNoWays(world, file, apart);
  const stuck = new Set([...apart, ...noWay].flatMap(({ services }) => services.slice(0, 1)));
  const courses = ways.map((found, train): TrainCourse | null => {
    const services = world.timetable.workings[train]?.services ?? [];
    const ids = services.map((service) => world.timetable.services[service]!.file.id);
    if (found === null || ids.some((id) => stuck.has(id))) return null;
    return { ways: found, trips: trips[train]!, least: leastTimes(found, world.timetable.ratio) };
  });
  const chosen = chooseWays(world, courses);
  const findings = [
    ...apart,
    ...noWay,
    ...checkSession(world, file),
    ...checkTransfers(world),
    ...courses.flatMap((course, train) => [
      ...(course === null ? [] : checkRunningTimes(world, course, grain)),
      ...checkStays(world, course ?? { trips: trips[train]!, least: [] }, grain),
    ]),
    ...checkRoom(world, trips, courses, grain),
    ...findConflicts(world, courses, chosen, grain),
  ];
  findings.sort(
    (a, b) =>
      Number(a.weight === 'tight') - Number(b.weight === 'tight') ||
      a.from - b.from ||
      (a.text < b.text ? -1 : 1),
  );
  return { world, grain, trips, courses, chosen, findings };
}

/** Trains for which no permitted way leads on, where nothing that was found before says why. */
function findNoWays(world: World, file: TimetableFile, found: readonly Finding[]): Finding[] {
  const named = new Set(found.flatMap(({ services }) => services.slice(0, 1)));
  const sound = file.workings.filter(({ services }) => services.every((id) => !named.has(id)));
  const { layout, stock, timetable } = world;
  return sound.flatMap((working) =>
    checkWays({ ...file, workings: [working] }, layout, stock).map((fault): Finding => {
      const services = working.services.filter((id) => fault.place.includes(`${id} calls`));
      const service = timetable.services.find(({ file: it }) => it.id === services[0]);
      return {
        kind: 'no-way',
        weight: 'breaks',
        services,
        place: fault.place,
        stations: [],
        from: service?.calls[0]?.depart ?? timetable.start,
        until: service?.calls.at(-1)?.arrive ?? timetable.start,
        missing: 0,
        text: `${fault.text[0]!.toUpperCase()}${fault.text.slice(1)}.`,
        proposal: { text: fault.mend, changes: [] },
      };
    }),
  );
}
