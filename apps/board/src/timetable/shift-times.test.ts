import type { TimetableFile } from '@blockbell/railway';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { changesBetween } from '@blockbell/timetabling';
import { shiftTimes, timeOf } from './shift-times.js';

const file = {
  services: [
    {
      id: 'S1',
      calls: [
        { station: 'a', depart: '08:00' },
        { station: 'b', arrive: '08:05', depart: '08:07' },
        { station: 'c', stop: 'pass', depart: '08:10' },
        { station: 'd', arrive: '08:15' },
      ],
    },
    {
      id: 'S2',
      calls: [
        { station: 'a', depart: '09:00' },
        { station: 'b', arrive: '09:05' },
      ],
    },
  ],
} as unknown as TimetableFile;

const times = ({ services }: TimetableFile): (string | undefined)[] =>
  services[0]!.calls.flatMap(({ arrive, depart }) => [arrive, depart]);

describe('moving a service', () => {
  it('from its first call moves all of it', () => {
    const moved = shiftTimes(file, 'S1', 0, 3);
    expect(times(moved)).toEqual([
      undefined,
      '08:03',
      '08:08',
      '08:10',
      undefined,
      '08:13',
      '08:18',
      undefined,
    ]);
    expect(moved.services[1]).toBe(file.services[1]);
    expect(changesBetween(file, moved)).toHaveLength(5);
  });

  it('from a call on leaves its arrival there and all before', () => {
    expect(times(shiftTimes(file, 'S1', 1, 4)).slice(0, 4)).toEqual([
      undefined,
      '08:00',
      '08:05',
      '08:11',
    ]);
  });

  it('never lets it leave before it has arrived, nor the day before', () => {
    expect(times(shiftTimes(file, 'S1', 1, -9))[3]).toBe('08:05');
    expect(times(shiftTimes(file, 'S1', 0, -999))[1]).toBe('00:00');
    expect(shiftTimes(file, 'S1', 3, 2)).toBe(file);
    expect(shiftTimes(file, 'S9', 0, 2)).toBe(file);
  });

  it('never moves beyond the last time that can be written', () => {
    const late = shiftTimes(file, 'S1', 0, 99 * 60);
    expect(times(late).at(-2)).toBe('99:59');
    expect(times(late)[1]).toBe('99:44');
    expect(shiftTimes(late, 'S1', 0, 1)).toBe(late);
    // Even a departure that is alone in its seconds stays one that can be read.
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 2 }), fc.integer(), (call, minutes) => {
        for (const time of times(shiftTimes(file, 'S1', call, minutes)))
          expect(time === undefined || timeOf(time) !== null).toBe(true);
      }),
    );
  });

  it('there and back is what it was, wherever it had room', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 2 }),
        fc.integer({ min: 1, max: 90 }),
        (call, minutes) => {
          const moved = shiftTimes(file, 'S1', call, minutes);
          expect(shiftTimes(moved, 'S1', call, -minutes)).toEqual(file);
        },
      ),
    );
  });
});

it('the time of a text is told in fast-clock ms', () => {
  expect(timeOf('09:07')).toBe(547 * 60_000);
  expect(timeOf(undefined)).toBeNull();
});
