import type { RunView } from '@blockbell/contract/messages';
import type { Timetable } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { forecastLine, plannedLines, runLine } from './graph-lines.js';

const MINUTE = 60_000;
const CHAINAGES = [0, 5, 12];
const call = (station: number, arrive: number | null, depart: number | null) => ({
  station,
  arrive,
  depart,
  stops: true,
  tracks: [],
  dwellFast: 0,
  dwellReal: 0,
});

/** One train: from station 0 by 1 to 2 and, in its next service, back to 1. Times in fast minutes. */
const timetable = {
  services: [
    {
      calls: [
        call(0, null, 10 * MINUTE),
        call(1, 15 * MINUTE, 16 * MINUTE),
        call(2, 26 * MINUTE, null),
      ],
    },
    { calls: [call(2, null, 30 * MINUTE), call(1, 40 * MINUTE, null)] },
  ],
  workings: [{ train: 0, services: [0, 1] }, null],
} as unknown as Timetable;

const run = (...calls: RunView['calls']): RunView => ({ train: 0, calls });
const at = (minutes: number): number => minutes * MINUTE;

describe('what is expected', () => {
  const calls = [
    { service: 0, call: 1, arrive: at(17), depart: at(18) },
    { service: 0, call: 2, arrive: at(28), depart: null },
  ];
  const pointsOf = (points: readonly { fast: number; chainage: number }[]) =>
    points.map(({ fast, chainage }) => [fast / MINUTE, chainage]);

  it('goes on from where the train left last, with its arrivals marked', () => {
    const left = run({ service: 0, call: 0, arrived: null, departed: at(11) });
    const line = forecastLine({ by: 'plan', calls }, left, timetable, CHAINAGES);
    expect(pointsOf(line.points)).toEqual([
      [11, 0],
      [17, 5],
      [18, 5],
      [28, 12],
    ]);
    expect(pointsOf(line.arrivals)).toEqual([
      [17, 5],
      [28, 12],
    ]);
  });

  it('goes on from its arrival where the train stands', () => {
    const stands = run({ service: 0, call: 1, arrived: at(16), departed: null });
    const [first, second] = calls;
    const line = forecastLine(
      { by: 'lateness', calls: [{ ...first!, arrive: null }, second!] },
      stands,
      timetable,
      CHAINAGES,
    );
    expect(pointsOf(line.points)).toEqual([
      [16, 5],
      [18, 5],
      [28, 12],
    ]);
  });

  it('marks each arrival, though all that is overdue is expected at one time', () => {
    const overdue = calls.map((it) => ({ ...it, arrive: at(30), depart: null }));
    const line = forecastLine({ by: 'plan', calls: overdue }, run(), timetable, CHAINAGES);
    expect(pointsOf(line.arrivals)).toEqual([
      [30, 5],
      [30, 12],
    ]);
  });

  it('is nothing without a forecast', () => {
    for (const forecast of [null, undefined])
      expect(forecastLine(forecast, run(), timetable, CHAINAGES).points).toEqual([]);
  });
});

describe('the graph', () => {
  it('draws the services of a working as one line and trains without work not at all', () => {
    const [line, ...more] = plannedLines(timetable, CHAINAGES);
    expect(more).toEqual([]);
    expect(line?.points.map(({ fast, chainage }) => [fast / MINUTE, chainage])).toEqual([
      [10, 0],
      [15, 5],
      [16, 5],
      [26, 12],
      [30, 12],
      [40, 5],
    ]);
  });

  it('lets a train that stands go on standing', () => {
    const calls = run(
      { service: 0, call: 0, arrived: null, departed: at(11) },
      { service: 0, call: 1, arrived: at(17), departed: null },
    );
    const { points, onTheWay } = runLine(calls, timetable, CHAINAGES, at(60));
    expect(points.map(({ fast, chainage }) => [fast / MINUTE, chainage])).toEqual([
      [11, 0],
      [17, 5],
      [60, 5],
    ]);
    expect(onTheWay).toEqual([]);
  });

  it('takes a train on its way forward at the planned pace, never into the next station', () => {
    const calls = run({ service: 0, call: 1, arrived: at(15), departed: at(18) });
    const { points, onTheWay } = runLine(calls, timetable, CHAINAGES, at(60));
    expect(points.map(({ fast }) => fast / MINUTE)).toEqual([15, 18]);
    // Booked ten minutes for seven kilometres; what it is late it waits before the station.
    expect(onTheWay.map(({ fast, chainage }) => [fast / MINUTE, chainage])).toEqual([
      [18, 5],
      [27.5, expect.closeTo(11.65)],
      [60, expect.closeTo(11.65)],
    ]);
  });

  it('never goes back in time, whatever the hour', () => {
    const calls = run({ service: 0, call: 1, arrived: at(70), departed: at(71) });
    const times = runLine(calls, timetable, CHAINAGES, at(60)).onTheWay.map(({ fast }) => fast);
    expect(times).toEqual(times.toSorted((p, q) => p - q));
  });

  it('shows nothing for a train that has not begun, and no more of one that is done', () => {
    expect(runLine(run(), timetable, CHAINAGES, at(60))).toEqual({ points: [], onTheWay: [] });
    const done = run({ service: 1, call: 1, arrived: at(41), departed: at(42) });
    expect(runLine(done, timetable, CHAINAGES, at(60)).onTheWay).toEqual([]);
  });
});
