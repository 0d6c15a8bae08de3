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

/** The railway of 2,040 sections with so many trains. */
export const largeSubject = (trains = MOST_TRAINS, seed = SEED): RehearsalSetup =>
  sizedSubject(SECTIONS, trains, seed);

/** A generated railway with two fifths of single line or more, and so many trains that all want to run at once. */
export function sizedSubject(sections: number, trains: number, seed = SEED): RehearsalSetup {
  const railway = generateRailway({
    seed,
    sections,
    trains,
    singleLineShare: SINGLE_LINE,
    services: trains * SERVICES_A_TRAIN,
  });
  const { timetable } = railway;
  const rushed = { ...timetable, clock: { ...timetable.clock, ratio: RUSH } };
  return { ...railway, timetable: rushed, seed: SEED };
}
