import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { RehearsalSetup } from '@blockbell/rehearsal';
import { medianOf } from './median.js';
import { numberText, type Benchmark, type Report } from './report.js';
import { storeHour, type StoredHour } from './stored-hour.js';
import { demoSubject } from './subjects.js';
import { timedStart } from './timed-start.js';

const MINUTE = 60_000;
/** A server that is killed has made its last snapshot so long ago at most, physical ms at ×1. */
const LAST_SNAPSHOT = 2 * MINUTE;
/** At this ratio the demo’s timetable of four hours lasts longer than one. */
const CLOCK_RATIO = 3;
/** What the journal of an hour may add to a start when snapshots were kept, ms. */
const MOST_ADDED = 3000;

export const restartTime: Benchmark = {
  name: 'restart',
  async measure({ quick, tell }) {
    const minutes = quick ? 5 : 60;
    const starts = quick ? 2 : 7;
    const folder = mkdtempSync(join(tmpdir(), 'blockbell-bench-'));
    const [empty, bare, kept] = [join(folder, 'empty'), join(folder, 'bare'), join(folder, 'kept')];
    try {
      tell(`${minutes} minutes of the demo being written`);
      const hour = await storeHour(
        lastingSubject(),
        { length: minutes * MINUTE, last: LAST_SNAPSHOT },
        { bare, kept },
      );
      tell(`${starts} starts on each data folder`);
      const measured: Measured = {
        hour,
        first: await startsOn(empty, starts, 'set-up'),
        kept: await startsOn(kept, starts, 'powerless'),
        bare: await startsOn(bare, starts, 'powerless'),
      };
      return reportOf(measured, minutes, starts);
    } finally {
      rmSync(folder, { recursive: true });
    }
  },
};

/** The demo, slowed down so that its timetable lasts the hour. */
function lastingSubject(): RehearsalSetup {
  const { timetable, ...demo } = demoSubject();
  return {
    ...demo,
    timetable: { ...timetable, clock: { ...timetable.clock, ratio: CLOCK_RATIO } },
  };
}

const reportOf = (
  { hour, first, kept, bare }: Measured,
  minutes: number,
  starts: number,
): Report => ({
  name: 'restart',
  title: 'Time of a restart',
  about:
    `Milliseconds from the start of the server’s process until it answers with the session, held, after it was killed ${minutes} ` +
    'minutes into the demo at ×1, its clock at 3:1: with a snapshot two minutes old, as old as the last one gets, and without any, so that the ' +
    `whole journal is run again; beside a first start on an empty data folder. ${starts} starts each. “Fed”: inputs run again.`,
  columns: ['started', 'fed', 'median ms', 'fastest ms', 'slowest ms'],
  rows: [
    ['for the first time', '0', ...timesOf(first)],
    ['again, from a snapshot', numberText(hour.after), ...timesOf(kept)],
    ['again, without a snapshot', numberText(hour.inputs), ...timesOf(bare)],
  ],
  figures: [
    {
      what: 'added to a first start, from a snapshot',
      value: medianOf(kept) - medianOf(first),
      unit: 'ms',
      target: { most: MOST_ADDED },
    },
  ],
});

interface Measured {
  readonly hour: StoredHour;
  /** Milliseconds of each start, in ascending order. */
  readonly first: readonly number[];
  readonly kept: readonly number[];
  readonly bare: readonly number[];
}

/** Starts on copies of a folder, each in the same state. */
async function startsOn(folder: string, count: number, phase: string): Promise<readonly number[]> {
  const times: number[] = [];
  for (let start = 0; start < count; start++) {
    const copy = `${folder}-${start}`;
    if (phase !== 'set-up') cpSync(folder, copy, { recursive: true });
    const started = await timedStart(copy);
    if (started.phase !== phase)
      throw new Error(`The session came up ${started.phase}, not ${phase}.`);
    times.push(started.elapsed);
    rmSync(copy, { recursive: true });
  }
  return times.sort((a, b) => a - b);
}

const timesOf = (sorted: readonly number[]): string[] =>
  [medianOf(sorted), sorted[0] ?? 0, sorted.at(-1) ?? 0].map(numberText);
