import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { instant, mmPerS2, um, umPerS } from '../units.js';
import { brakingDistance, fastest, weakest } from './braking.js';
import { standingAt, timeToTarget } from './motion.js';

/** Prototype figures at 1:100, so that a metre is 10 mm and 0.5556 m/s² a whole number of mm/s². */
const speedOfKmh = (kmh: number) => umPerS(Math.round((kmh / 3.6) * 10_000_000));
const deceleration = (b: number) => mmPerS2(Math.round(b * 10_000));

/**
 * Braking from a speed to standstill with even deceleration (m/s²): distance in m, time in s.
 * Source: table `brakingVectors`, computed from v²/2b and v/b; 120 km/h with 0.5556 m/s² in 1000 m is the definition of
 * 80 brake-hundredths.
 */
const brakingVectors = [
  { kmh: 160, b: 0.5, distance: 1975.31, time: 88.89 },
  { kmh: 120, b: 0.5556, distance: 999.92, time: 60.0 },
  { kmh: 120, b: 0.5, distance: 1111.11, time: 66.67 },
  { kmh: 100, b: 0.5, distance: 771.6, time: 55.56 },
  { kmh: 80, b: 0.3, distance: 823.05, time: 74.07 },
  { kmh: 60, b: 0.2, distance: 694.44, time: 83.33 },
];

describe('braking', () => {
  it.each(brakingVectors)('$kmh km/h with $b m/s² as published', ({ kmh, b, distance, time }) => {
    const speed = speedOfKmh(kmh);
    const braking = deceleration(b);
    expect(brakingDistance(speed, umPerS(0), braking) / 10_000_000).toBeCloseTo(distance, 1);
    const stopping = { ...standingAt(um(0), instant(0)), speed };
    expect(timeToTarget(stopping, { acceleration: braking, braking }) / 1000).toBeCloseTo(time, 1);
  });

  it('is 0 where there is nothing to brake', () => {
    expect(brakingDistance(umPerS(50_000), umPerS(60_000), mmPerS2(100))).toBe(0);
  });

  it('in two parts takes the same distance as in one', () => {
    const speeds = fc.integer({ min: 0, max: 400_000 });
    fc.assert(
      fc.property(speeds, speeds, speeds, fc.integer({ min: 5, max: 300 }), (x, y, z, b) => {
        const [low, middle, high] = [x, y, z].sort((p, q) => p - q).map(umPerS);
        const braking = mmPerS2(b);
        const whole = brakingDistance(high!, low!, braking);
        const parts =
          brakingDistance(high!, middle!, braking) + brakingDistance(middle!, low!, braking);
        expect(parts - whole).toBeGreaterThanOrEqual(0);
        expect(parts - whole).toBeLessThanOrEqual(1);
      }),
    );
  });

  it('reckons with the fastest and the weakest of the spread', () => {
    expect(fastest(umPerS(200_000), 30)).toBe(206_000);
    expect(weakest(mmPerS2(100), 150)).toBe(85);
    expect(weakest(mmPerS2(1), 900)).toBe(1);
  });
});
