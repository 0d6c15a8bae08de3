import type { Timetable } from '@blockbell/railway';
import { expect, it } from 'vitest';
import { trainRow } from '../testing/train-row.js';
import { expectedNext, expectedWords } from './forecast-words.js';

const at = (hours: number, minutes: number): number => (hours * 60 + minutes) * 60_000;
const call = (station: number, arrive: number | null, depart: number | null) => ({
  station,
  arrive,
  depart,
});
const timetable = {
  services: [
    { calls: [call(0, null, at(10, 0)), call(1, at(10, 5), at(10, 7)), call(2, at(10, 20), null)] },
  ],
} as unknown as Timetable;
const NAMES = ['Aden', 'Brill', 'Corve'];

it('names the time, how late that is, and that a plan says so', () => {
  const row = trainRow({
    nextFast: at(10, 5),
    forecast: {
      by: 'plan',
      calls: [{ service: 0, call: 1, arrive: at(10, 7), depart: at(10, 8) }],
    },
  });
  expect(expectedNext(row)).toEqual({
    fast: at(10, 7),
    planned: true,
    words: 'expected at 10:07, 2 minutes late, by the plan',
  });
});

it('takes the departure where it stands, and says when no plan is followed', () => {
  const calls = [
    { service: 0, call: 1, arrive: null, depart: at(10, 9) },
    { service: 0, call: 2, arrive: at(10, 20), depart: null },
  ];
  const row = trainRow({ nextFast: at(10, 7), forecast: { by: 'lateness', calls } });
  expect(expectedNext(row)).toMatchObject({ fast: at(10, 9), planned: false });
  expect(expectedWords(row, timetable, NAMES)).toBe(
    'Expected without a plan, from booked times and how late it is: ' +
      'Brill leaves 10:09 (2 minutes late); Corve arrives 10:20.',
  );
});

it('says nothing of a train without work, nor from recordings that know no forecast', () => {
  for (const row of [trainRow({ forecast: null }), trainRow()]) {
    expect(expectedNext(row)).toBeNull();
    expect(expectedWords(row, timetable, NAMES)).toBeNull();
  }
});
