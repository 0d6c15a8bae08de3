import { expect, it } from 'vitest';
import type { SessionDriver } from '../testing/session-driver.js';
import { runningLine } from '../testing/session-settings.js';

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
