import type { RehearsalSetup } from '@blockbell/rehearsal';
import { generateRailway } from '@blockbell/simulation';
import { loadFiles } from '../session-files.js';

/** Chance of the simulated layout in all benchmarks. */
const SEED = 1;
/** As large as the generator makes them. */
export const SECTIONS = 2040;
export const MOST_TRAINS = 60;
/** Least share of single line. */
const SINGLE_LINE = 0.4;
const SERVICES_A_TRAIN = 8;
/** Fast-clock time runs so fast that every train is soon behind its booked times and wants to run, all the while. */
const RUSH = 60;

/** The demo. */
export function demoSubject(): RehearsalSetup {
  const loaded = loadFiles({});
  if (!loaded.ok) throw new Error('The demo has faults; “blockbell check” names them.');
  const { layout, stock, timetable } = loaded.files;
  return { layout, stock, timetable, seed: SEED };
}

/**
 * A generated railway of 2,040 sections with two fifths of single line or more, and so many trains that all want to
 * run at once.
 */
export function largeSubject(trains = MOST_TRAINS, seed = SEED): RehearsalSetup {
  const railway = generateRailway({
    seed,
    sections: SECTIONS,
    trains,
    singleLineShare: SINGLE_LINE,
    services: trains * SERVICES_A_TRAIN,
  });
  const { timetable } = railway;
  const rushed = { ...timetable, clock: { ...timetable.clock, ratio: RUSH } };
  return { ...railway, timetable: rushed, seed: SEED };
}
