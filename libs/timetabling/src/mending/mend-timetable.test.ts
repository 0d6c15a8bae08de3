import { parseClockText, type TimetableFile } from '@blockbell/railway';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { writeTime } from '../booking/times.js';
import { checkTimetable } from '../check-timetable.js';
import { booked, edited, filesOf } from '../testing/crossings.js';
import { mendTimetable, USUAL_MENDING } from './mend-timetable.js';

const { layout, stock, timetable } = filesOf('passing-loop');

const mend = (file: TimetableFile, earlier = 0, later = 30) =>
  mendTimetable(layout, stock, file, { ...USUAL_MENDING, earlier, later });

/** A service with all its times so many minutes later. */
const moved = (file: TimetableFile, service: string, minutes: number): TimetableFile =>
  edited(file, ({ services }) => {
    for (const call of services.find(({ id }) => id === service)!.calls)
      for (const what of ['arrive', 'depart'] as const)
        if (call[what] !== undefined)
          call[what] = writeTime(parseClockText(call[what])! + minutes * 60_000);
  });

/** 1047 sets out into the single line while 3 is on it. */
const meeting = [0, 1, 2].reduce(
  (file, call) =>
    booked(
      file,
      'S47-1',
      call,
      [{ depart: '08:14' }, { arrive: '08:18', depart: '08:19' }, { arrive: '08:24' }][call]!,
    ),
  timetable,
);

describe('mending a timetable', () => {
  it('leaves one alone that can be kept', () => {
    expect(mend(timetable)).toEqual({
      ok: true,
      timetable,
      changes: [],
      minutes: 0,
      weighted: 0,
      least: 0,
    });
  });

  it('lets who is in the way wait at the passing loop, and no longer than it must', () => {
    const mended = mend(meeting);
    expect(mended).toMatchObject({
      ok: true,
      changes: [
        { service: 'S3-1', call: 1, what: 'depart', from: '08:13', to: '08:17' },
        { service: 'S3-1', call: 2, what: 'arrive', from: '08:19', to: '08:20' },
      ],
      minutes: 5,
      weighted: 25,
    });
  });

  it('lets a train leave earlier where it may and that is less', () => {
    const mended = mend(moved(timetable, 'S3-1', 2), 5);
    if (!mended.ok) throw new Error(mended.text);
    expect(checkTimetable(layout, stock, mended.timetable).findings).toEqual([]);
  });

  it('says so where the bounds leave no room, and what no change of times mends', () => {
    expect(mend(meeting, 0, 1)).toMatchObject({
      ok: false,
      text: 'No plan was found with departures at most 0 min earlier and 1 min later.',
      findings: [{ kind: 'track-conflict' }],
    });
    const apart = edited(timetable, (it) => {
      it.services = it.services.filter(({ id }) => id !== 'S3-2');
      it.workings[0]!.services.splice(1, 1);
    });
    expect(mend(apart)).toMatchObject({ ok: false, findings: [{ kind: 'workings-apart' }] });
  });

  it('makes a timetable in which nothing is found any more, within the bounds', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('S3-1', 'S3-2', 'S47-1', 'S47-2'),
        fc.integer({ min: 1, max: 9 }),
        (service, minutes) => {
          const broken = moved(timetable, service, minutes);
          const mended = mend(broken);
          fc.pre(mended.ok);
          if (!mended.ok) return;
          expect(checkTimetable(layout, stock, mended.timetable).findings).toEqual([]);
          for (const { from, to, what } of mended.changes) {
            const by = parseClockText(to)! - parseClockText(from)!;
            expect(by).toBeGreaterThan(0);
            if (what === 'depart') expect(by).toBeLessThanOrEqual(30 * 60_000);
          }
        },
      ),
      { numRuns: 8 },
    );
  });
});
