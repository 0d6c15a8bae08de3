import { expect, it } from 'vitest';
import type { SessionDriver } from '../testing/session-driver.js';
import { line, oneTrain, runningLine } from '../testing/session-settings.js';
import { service, timetableOf } from '../testing/timetable-parts.js';

const STOPPED: readonly [string, (driver: SessionDriver) => void][] = [
  ['everything was stopped', (driver) => driver.command({ kind: 'stop-all' })],
  ['power was cut', (driver) => driver.command({ kind: 'cut-power' })],
  [
    'the program was started again',
    (driver) => driver.feed({ at: driver.now, kind: 'started-again' }),
  ],
];

it.each(STOPPED)('a train in hand runs only when its crew asks anew, after %s', (_, stop) => {
  const driver = runningLine();
  driver.command({ kind: 'take-in-hand', train: 0, take: true });
  driver.command({ kind: 'drive', train: 0, speed: 50 });
  driver.wait(10_300);
  expect(driver.train('T').activity.kind).toBe('moving');
  stop(driver);
  expect(driver.train('T').handSpeed).toBe(0);
});

it('a train that its crew keeps standing short of its last call is not done with its work', () => {
  const oneTrip = timetableOf(
    [service('S1', 'West - 09:01', 'East 09:10 -')],
    { T: 'S1' },
    { T: 'A>b' },
  );
  const driver = runningLine(line(), oneTrain(), oneTrip);
  driver.wait(10_300);
  driver.occupied('b1');
  driver.wait(2400);
  driver.occupied('b2');
  driver.wait(2400);
  driver.occupied('c1');
  expect(driver.path('T')).toContain('D');
  driver.command({ kind: 'take-in-hand', train: 0, take: true });
  driver.command({ kind: 'drive', train: 0, speed: 0 });
  driver.wait(10_000);
  expect(driver.train('T')).toMatchObject({
    activity: { kind: 'standing' },
    wait: { kind: 'in-hand' },
  });
});
