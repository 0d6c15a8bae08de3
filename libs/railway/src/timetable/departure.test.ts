import { describe, expect, it } from 'vitest';
import type { TimetableFile } from './timetable-file.js';
import { MirrorTraffic } from '../testing/mirror-traffic.js';
import { SessionDriver } from '../testing/session-driver.js';
import { line, oneTrain, runningLine, thereAndBack } from '../testing/session-settings.js';
import { call, service, timetableOf } from '../testing/timetable-parts.js';
import { runningCrossover } from '../testing/crossover.js';
import { block, bufferStop, detection, layoutOf, station } from '../testing/layout-parts.js';
import { locomotive, stockOf, train } from '../testing/stock-parts.js';

/** T begins in A; the clock stands at 09:00 when the session starts at 2600 ms and runs six times as fast. */
const START = 2600;

describe('a train leaves', () => {
  it('not before its booked time', () => {
    const driver = runningLine();
    expect(driver.train('T').wait).toEqual({ kind: 'booked', depart: (9 * 60 + 1) * 60_000 });
    driver.runTo(START + 9999);
    expect(driver.path('T')).toEqual(['A']);
    driver.runTo(START + 10_000);
    expect(driver.path('T')).toEqual(['A', 'B', 'C']);
  });

  it('not before its booked time comes when the clock is made slower or faster', () => {
    const driver = runningLine();
    driver.wait(5000);
    driver.command({ kind: 'set-clock-ratio', ratio: 3 });
    driver.runTo(START + 5000 + 9999);
    expect(driver.path('T')).toEqual(['A']);
    driver.runTo(START + 5000 + 10_000);
    expect(driver.path('T').length).toBeGreaterThan(1);
    const hurried = runningLine();
    hurried.wait(5000);
    hurried.command({ kind: 'set-clock-ratio', ratio: 60 });
    hurried.runTo(START + 5000 + 499);
    expect(hurried.path('T')).toEqual(['A']);
    hurried.runTo(START + 5000 + 500);
    expect(hurried.path('T').length).toBeGreaterThan(1);
  });

  it('not while a person holds it', () => {
    const driver = runningLine();
    driver.command({ kind: 'hold-train', train: 0, hold: true });
    driver.wait(60_000);
    expect(driver.train('T').wait).toEqual({ kind: 'held-by-person' });
    driver.command({ kind: 'hold-train', train: 0, hold: false });
    expect(driver.path('T').length).toBeGreaterThan(1);
  });

  /** T calls in C on its way, late, with this dwell. */
  function dwelling(fast: number, real: number): { arrived: number; left: number } {
    const layout = line({
      stations: [station('West', 0, ['A']), station('Middle', 1, ['C']), station('East', 3, ['D'])],
    });
    const timetable = timetableOf(
      [
        service(
          'S1',
          'West - 09:01',
          call('Middle 09:01:30 09:01:40', { dwell: { fast, real } }),
          'East 09:10 -',
        ),
      ],
      { T: 'S1' },
      { T: 'A>b' },
    );
    const driver = runningLine(layout, oneTrain(), timetable);
    const traffic = new MirrorTraffic(driver);
    while (driver.train('T').leg === 0) traffic.runTo(driver.now + 10);
    const arrived = driver.train('T').arrivedReal;
    while (driver.train('T').arrivedAt !== null) traffic.runTo(driver.now + 10);
    return { arrived, left: driver.now };
  }

  it('not before its least dwell on the fast clock is over', () => {
    const { arrived, left } = dwelling(60, 0);
    expect(left - arrived).toBeGreaterThanOrEqual(10_000);
    expect(left - arrived).toBeLessThan(10_020);
  });

  it('not before its least dwell in real time is over', () => {
    const { arrived, left } = dwelling(60, 15);
    expect(left - arrived).toBeGreaterThanOrEqual(15_000);
    expect(left - arrived).toBeLessThan(15_020);
  });
});

describe('a connection', () => {
  /** P comes from X to M; Q leaves M for Y, and awaits P: 60 s of transfer, held 600 s at most. */
  function connecting(pDeparts: string): SessionDriver {
    const parts = (name: string) => detection([`${name}1`, 300], [`${name}2`, 700]);
    const layout = layoutOf(
      [
        ...['X1', 'X2', 'Y1', 'Y2'].map(bufferStop),
        block('A', 1000, { detection: parts('a') }),
        block('B', 1000, { detection: parts('b') }),
        block('C', 1000, { detection: parts('c') }),
        block('D', 1000, { detection: parts('d') }),
      ],
      ['X1.a A.a', 'A.b B.a', 'B.b Y1.a', 'X2.a C.a', 'C.b D.a', 'D.b Y2.a'],
      { stations: [station('X', 0, ['A']), station('M', 1, ['B'], ['C']), station('Y', 2, ['D'])] },
    );
    const stock = stockOf(
      [locomotive('L1', 3), locomotive('L2', 4)],
      [],
      [train('P', 'L1'), train('Q', 'L2')],
    );
    const timetable = {
      ...timetableOf(
        [service('P1', `X - ${pDeparts}`, 'M 09:05 -'), service('Q1', 'M - 09:02', 'Y 09:10 -')],
        { P: 'P1', Q: 'Q1' },
        { P: 'A>b', Q: 'C>b' },
      ),
      connections: [
        { from: 'P1', to: 'Q1', station: 'M', transfer: 60, holdAtMost: 600 },
      ] as unknown as TimetableFile['connections'],
    };
    const driver = new SessionDriver(layout, stock, timetable);
    driver.lineUp('a2', 'c2');
    driver.report('a2', 3);
    driver.report('c2', 4);
    driver.command({ kind: 'start' });
    return driver;
  }

  it('is awaited, and the transfer after it', () => {
    const driver = connecting('09:01');
    const traffic = new MirrorTraffic(driver);
    traffic.runTo(START + 20_000);
    expect(driver.train('Q').wait).toMatchObject({ kind: 'connection', service: 0 });
    while (driver.train('P').leg === 0) traffic.runTo(driver.now + 10);
    const arrived = driver.train('P').arrivedReal;
    while (driver.train('Q').arrivedAt !== null) traffic.runTo(driver.now + 10);
    expect(driver.now - arrived).toBeGreaterThanOrEqual(10_000);
    expect(driver.now - arrived).toBeLessThan(10_020);
  });

  it('is awaited no longer than agreed', () => {
    const driver = connecting('09:50');
    const traffic = new MirrorTraffic(driver);
    // 09:02 and 600 s are 09:12: 720 s of fast time, 120 s of real time.
    traffic.runTo(START + 119_999);
    expect(driver.path('Q')).toEqual(['C']);
    traffic.runTo(START + 120_000);
    expect(driver.path('Q')).toEqual(['C', 'D']);
  });
});

describe('trains that are booked at the same time', () => {
  it('leave without waiting for each other where their ways do not meet', () => {
    const driver = runningCrossover('09:01', '09:01');
    driver.runTo(START + 10_000);
    expect(driver.path('P').length).toBe(3);
    expect(driver.path('Q').length).toBe(3);
  });
});

describe('a working without its train', () => {
  it('keeps nobody', () => {
    const driver = new SessionDriver(line(), oneTrain(), { ...thereAndBack(), storedPlaces: [] });
    driver.lineUp();
    expect(driver.command({ kind: 'start' })).toBe(null);
    driver.wait(60_000);
    expect(driver.train('T').wait).toEqual({ kind: 'finished' });
    expect(driver.alarms()).toEqual([]);
  });
});
