import { describe, expect, it } from 'vitest';
import { MirrorTraffic } from '../testing/mirror-traffic.js';
import { runningLine } from '../testing/session-settings.js';
import type { DelayParts } from './delay-ledger.js';

const MINUTE = 60_000;
/** Fast ms lost in waits. */
const lostIn = ({ lost }: DelayParts): number => lost.reduce((sum, { time }) => sum + time, 0);

describe('a train held while it runs', () => {
  it('loses nothing at its call before it is to leave, and all after that to who holds it', () => {
    const driver = runningLine();
    const traffic = new MirrorTraffic(driver);
    while (driver.path('T').at(-1) !== 'D') traffic.runTo(driver.now + 500);
    expect(driver.train('T').arrivedAt).toBeNull();
    driver.command({ kind: 'hold-train', train: 0, hold: true });
    // The clock runs six times as fast: 09:45 comes after seven and a half minutes, five after it was to leave again.
    traffic.runTo(7.5 * MINUTE);
    driver.command({ kind: 'hold-train', train: 0, hold: false });
    traffic.runTo(12 * MINUTE);
    const [there, back] = driver
      .train('T')
      .calls.filter(({ call, arrived }) => call === 1 && arrived !== null);
    expect(lostIn(there!.delay!)).toBeLessThan(MINUTE / 2);
    expect(back!.delay!.lost.map(({ why }) => why)).toEqual(['held-by-person']);
    expect(Math.abs(lostIn(back!.delay!) - 5 * MINUTE)).toBeLessThan(MINUTE / 2);
    expect(back!.delay!.own).toBeLessThan(MINUTE / 2);
  });
});
