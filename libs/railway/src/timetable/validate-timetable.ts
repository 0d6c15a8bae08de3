import { fault } from '../faults/fault.js';
import type { Fault } from '../faults/fault.js';
import { checkIdentifiers } from '../faults/identifiers.js';
import type { Layout } from '../layout/layout.js';
import type { Stock } from '../stock/train.js';
import { formatClockText } from './clock-text.js';
import { stationsById } from './compile-timetable.js';
import type { ServiceFile, TimetableFile } from './timetable-file.js';
import type { Timetable } from './timetable.js';
import { checkCalls, checkOrderOfTimes } from './validation/calls.js';
import { checkOpenForm, checkOpenWork } from './validation/open-services.js';
import { checkStoredPlaces, checkStoredTrains } from './validation/stored-places.js';
import { checkWays } from './validation/ways.js';
import { checkJoins, checkWorkings } from './validation/workings.js';

/**
 * All faults of a timetable in one go, by theme. No fault: `compileTimetable` takes the file. Layout and stock are
 * null where they themselves are faulty or missing; then what depends on them is left out.
 */
export function validateTimetable(
  file: TimetableFile,
  layout: Layout | null,
  stock: Stock | null,
): readonly Fault[] {
  return [
    ...checkTimetableForm(file, layout, stock),
    ...checkOrderOfTimes(file),
    ...checkJoins(file),
    ...checkOpenWork(file, layout, stock),
    ...(layout === null || stock === null
      ? []
      : [...checkStoredTrains(file, layout, stock), ...checkWays(file, layout, stock)]),
  ];
}

/**
 * Faults of form alone: what is named, and what is there to be read. Without them the file can be compiled, though its
 * trains may not be able to run.
 */
export function checkTimetableForm(
  file: TimetableFile,
  layout: Layout | null,
  stock: Stock | null,
): readonly Fault[] {
  const stations = layout === null ? null : stationsById(layout);
  return [
    ...(layout === null ? [] : checkBelongs('layout', file.layout, layout.file.id)),
    ...(stock === null ? [] : checkBelongs('stock', file.stock, stock.file.id)),
    ...checkIdentifiers({ path: 'services', entries: file.services }),
    ...checkIdentifiers({ path: 'workings', entries: file.workings }),
    ...checkCalls(file, stations),
    ...checkOpenForm(file, stations),
    ...checkWorkings(file, stock),
    ...checkStoredPlaces(file, layout, stock),
  ];
}

/** Faults of one service alone, to be run within the hours of a timetable. */
export function serviceFaults(
  service: ServiceFile,
  layout: Layout,
  { start, end, ratio }: Pick<Timetable, 'start' | 'end' | 'ratio'>,
): readonly Fault[] {
  const clock = { start: formatClockText(start), end: formatClockText(end), ratio };
  const file = { clock, services: [service] };
  return [...checkCalls(file, stationsById(layout)), ...checkOrderOfTimes(file)];
}

const checkBelongs = (what: string, wanted: string, given: string): Fault[] =>
  wanted === given
    ? []
    : [
        fault(
          what,
          `the timetable is written for the ${what} ${wanted}, not for ${given}`,
          `give the ${what} file with the id ${wanted}, or correct the name`,
        ),
      ];
