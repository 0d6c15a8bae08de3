import { parseClockText, type TimetableFile } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { writeTime } from '../booking/times.js';
import { TimetableChecker } from '../check-timetable.js';
import { edited, filesOf } from '../testing/crossings.js';
import { mendTimetable } from './mend-timetable.js';

const { layout, stock, timetable } = filesOf('passing-loop');
const checker = new TimetableChecker(layout, stock);

/** The two services that meet, and what a minute of each costs: nine less the priority of its train. */
const MEETING = [
  { service: 'S3-1', weight: 5 },
  { service: 'S47-1', weight: 4 },
] as const;
/** Times booked for each of them, as call and kind. */
const BOOKED = [
  [0, 'depart'],
  [1, 'arrive'],
  [1, 'depart'],
  [2, 'arrive'],
] as const;

type Shifts = readonly number[];

/** Every way to make the booked times of both later by whole minutes that costs less than this. */
function* cheaperThan(cost: number, at = 0): Generator<Shifts> {
  if (at === MEETING.length * BOOKED.length) return yield [];
  const { weight } = MEETING[Math.floor(at / BOOKED.length)]!;
  for (let minutes = 0; minutes * weight < cost; minutes++)
    for (const rest of cheaperThan(cost - minutes * weight, at + 1)) yield [minutes, ...rest];
}

const shifted = (file: TimetableFile, shifts: Shifts): TimetableFile =>
  edited(file, ({ services }) => {
    shifts.forEach((minutes, at) => {
      const { service } = MEETING[Math.floor(at / BOOKED.length)]!;
      const [call, what] = BOOKED[at % BOOKED.length]!;
      const times = services.find(({ id }) => id === service)!.calls[call]!;
      times[what] = writeTime(parseClockText(times[what]!)! + minutes * 60_000);
    });
  });

describe('the least change that makes a timetable work', () => {
  // A change of any other service ends no conflict between these two.
  it.each([
    ['one of them seven minutes later', [7, 7, 7, 7, 0, 0, 0, 0], 18],
    ['the other seven minutes later', [0, 0, 0, 0, 7, 7, 7, 7], 18],
    ['one of them six minutes later from the loop on', [0, 0, 6, 6, 0, 0, 0, 0], 5],
    ['the other eight minutes later from there on', [0, 0, 0, 0, 0, 0, 8, 8], 16],
    ['the other leaving the loop two minutes early', [0, 0, 0, 0, 0, 0, -2, -2], 4],
  ])('with %s: every cheaper one by whole minutes leaves something', (_, broken, least) => {
    const file = shifted(timetable, broken);
    const mended = mendTimetable(layout, stock, file);
    expect(mended).toMatchObject({ ok: true, weighted: least });
    if (!mended.ok) return;
    expect(mended.least).toBeLessThanOrEqual(least);
    // Few cheaper ones are tried by itself, and from a conflict of seven minutes something follows for all of them.
    expect(mended.least! > 0).toBe(least < 10 || least === 18);
    if (least < 10) expect(mended.least).toBe(least);
    for (const shifts of cheaperThan(least)) {
      const { findings } = checker.examine(shifted(file, shifts));
      if (findings.length === 0) expect.fail(`mended by ${shifts.join(' ')} min`);
    }
  });
});
