import type { RecordedMark, RunView } from '@blockbell/contract/messages';
import type { Layout, Timetable } from '@blockbell/railway';
import { expect, it } from 'vitest';
import { sessionReport } from './session-report.js';

const MINUTE = 60_000;
const call = (arrive: number | null, stops = true) => ({ arrive, depart: null, stops });
/** Services of two stops, the second with a pass between; `B2` is the return of `B1`. */
const timetable = {
  services: [
    { file: { name: 'A' }, calls: [call(null), call(10 * MINUTE)] },
    { file: { name: 'B1' }, calls: [call(null), call(5 * MINUTE, false), call(20 * MINUTE)] },
    { file: { name: 'B2' }, calls: [call(null), call(40 * MINUTE)] },
    { file: { name: 'C' }, calls: [call(null), call(15 * MINUTE), call(30 * MINUTE)] },
  ],
  workings: [{ services: [0] }, { services: [1, 2] }, null, { services: [3] }],
} as unknown as Timetable;

const layout = {
  stations: [{ file: { name: 'Aden' }, tracks: [{ name: '2', blocks: [4] }] }],
  elements: [],
} as unknown as Layout;
const railway = { layout, timetable };

const arrival = (service: number, index: number, arrived: number) => ({
  service,
  call: index,
  arrived: arrived * MINUTE,
  departed: null,
});
const mark = (kind: RecordedMark['kind'], train: number | null): RecordedMark => ({
  kind,
  train,
  run: 1,
  at: 0,
  fast: 0,
  text: '',
});

it('of a session in which nothing ran it says so', () => {
  expect(sessionReport(railway, [], [])).toEqual({
    booked: 4,
    run: 0,
    median: null,
    worst: null,
    delays: {
      arrivals: 0,
      within3: 0,
      within5: 0,
      entry: 0,
      own: 0,
      knockOn: 0,
      recovered: 0,
      late: 0,
      byTrain: [],
      byPlace: [],
    },
    alarms: 0,
    inHand: [],
    givenBack: 0,
  });
});

it('counts services that made all their stops, and how late they were at the last', () => {
  const runs: RunView[] = [
    { train: 0, calls: [arrival(0, 1, 9)] },
    { train: 1, calls: [arrival(1, 2, 23), arrival(2, 1, 41)] },
    // It left out a stop.
    { train: 3, calls: [arrival(3, 2, 37)] },
  ];
  const { run, median, worst } = sessionReport(railway, runs, []);
  expect(run).toBe(3);
  expect(median).toBe(1 * MINUTE);
  expect(worst).toEqual({ service: 'C', late: 7 * MINUTE });
});

it('counts punctuality, and tells who was waited for and where, from recordings that know of it', () => {
  const delay = {
    entry: 0,
    own: 1 * MINUTE,
    lost: [{ train: 3, place: 4, why: 'element-held', time: 4 * MINUTE }],
    recovered: 0,
  };
  const runs: RunView[] = [
    { train: 0, calls: [{ ...arrival(0, 1, 15), delay }] },
    { train: 1, calls: [arrival(1, 2, 23)] },
  ];
  expect(sessionReport(railway, runs, []).delays).toMatchObject({
    arrivals: 2,
    within3: 1,
    within5: 2,
    own: MINUTE,
    knockOn: 4 * MINUTE,
    byTrain: [{ of: 3, time: 4 * MINUTE }],
    byPlace: [{ of: 'Aden 2', time: 4 * MINUTE }],
  });
});

it('names each train that was driven once, and counts alarms and ways given back', () => {
  const marks = [
    mark('in-hand', 3),
    mark('alarm', null),
    mark('in-hand', 3),
    mark('given-back', 1),
    mark('in-hand', 0),
    mark('alarm', null),
  ];
  expect(sessionReport(railway, [], marks)).toMatchObject({
    alarms: 2,
    inHand: [3, 0],
    givenBack: 1,
  });
});
