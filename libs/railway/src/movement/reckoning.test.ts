import { describe, expect, it } from 'vitest';
import { instant, mmPerS, mmPerS2, ms, um } from '../units.js';
import {
  anchor,
  certainlyReached,
  command,
  rangeAt,
  reachAt,
  seenAt,
  standing,
  standsFrom,
  type RunningModel,
} from './reckoning.js';

const model: RunningModel = {
  nominal: { acceleration: mmPerS2(100), braking: mmPerS2(100) },
  fast: { acceleration: mmPerS2(110), braking: mmPerS2(80) },
  slow: { acceleration: mmPerS2(90), braking: mmPerS2(120) },
  speedSpread: 50,
  delay: ms(200),
  creep: mmPerS(40),
};
const still = standing({ low: um(0), high: um(0) }, um(0), instant(0));
const running = command(model, still, mmPerS(100), instant(0));

describe('reckoning', () => {
  it('spreads between the slowest and the fastest train', () => {
    // Nominal: 1 s to 100 mm/s over 50 mm, then 100 mm/s. Fast: 105 mm/s at 110 mm/s². Slow: from 0.2 s, 95 at 90 mm/s².
    const { low, nominal, high } = rangeAt(model, running, instant(3000));
    expect(nominal).toBe(250_000);
    expect(high).toBe(Math.round(105_000 * 3 - (105_000 * 105) / 110 / 2));
    expect(low).toBe(Math.round(95_000 * 2.8 - (95_000 * 95) / 90 / 2));
  });

  it('tells how far a train gets that is told to stop, and when it stands', () => {
    const reach = reachAt(model, running, instant(3000));
    const stopping = command(model, running, mmPerS(0), instant(3000));
    const stands = standsFrom(model, stopping)!;
    expect(standsFrom(model, running)).toBeNull();
    // 0.2 s of delay, then 105 mm/s at 80 mm/s².
    expect(stands).toBe(3000 + 200 + Math.ceil(105_000 / 80));
    expect(Math.abs(rangeAt(model, stopping, stands).high - reach)).toBeLessThanOrEqual(1);
  });

  it('believes the worst of two commands that may cross', () => {
    const stopping = command(model, running, mmPerS(0), instant(3000));
    const again = command(model, stopping, mmPerS(60), instant(3100));
    // Until 3.2 s the first command may still be in effect, at 105 mm/s; then the fastest brakes to 63.
    const before = rangeAt(model, running, instant(3200));
    expect(rangeAt(model, again, instant(3200)).high).toBe(before.high);
    const later = rangeAt(model, again, instant(5000)).high - before.high;
    const braking = (105 - 63) / 80;
    expect(later / 1000).toBeCloseTo(63 * 1.8 + (braking * (105 - 63)) / 2, 1);
  });

  it('is narrowed by an edge and replaced by one that contradicts it', () => {
    const seen = seenAt(model, running, um(230_000), ms(100), instant(3000));
    expect(seen.low).toBe(230_000);
    expect(seen.high).toBeGreaterThanOrEqual(230_000 + 105 * 100);
    const narrowed = rangeAt(model, anchor(model, running, seen, instant(3000)), instant(3000));
    expect([narrowed.low, narrowed.high]).toEqual([seen.low, seen.high]);
    expect(narrowed.nominal).toBe(seen.high);
    const beyond = { low: um(400_000), high: um(410_000) };
    const replaced = rangeAt(model, anchor(model, running, beyond, instant(3000)), instant(3000));
    expect(replaced).toEqual({ ...beyond, nominal: beyond.low });
  });

  it('knows by when even the slowest train has come to a place', () => {
    const at = certainlyReached(model, running, um(200_000))!;
    expect(rangeAt(model, running, at).low).toBeGreaterThanOrEqual(200_000);
    expect(rangeAt(model, running, instant(at - 1)).low).toBeLessThan(200_000);
    const stopping = command(model, running, mmPerS(0), instant(1000));
    expect(certainlyReached(model, stopping, um(200_000))).toBeNull();
  });
});
