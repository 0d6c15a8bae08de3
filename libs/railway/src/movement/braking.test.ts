import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mmPerS2, ms, umPerS } from '../units.js';
import { brakeDistance, brakingDistance, stoppingDistance, stoppingTime } from './braking.js';

const exact = { speed: 0, braking: 0 };

/** Prototype figures at 1:100, so that a metre is 10 mm and 0.5556 m/s² a whole number of mm/s². */
const speedOfKmh = (kmh: number) => umPerS(Math.round((kmh / 3.6) * 10_000_000));
const decelerations = (b: number) => mmPerS2(Math.round(b * 10_000));

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
    const metres = stoppingDistance(speed, decelerations(b), ms(0), exact) / 10_000_000;
    expect(metres).toBeCloseTo(distance, 1);
    expect(stoppingTime(speed, decelerations(b), ms(0), exact) / 1000).toBeCloseTo(time, 1);
  });

  it('adds the delay and both spreads', () => {
    // 200 mm/s told, 206 run; 100 ms rolling; 100 mm/s² measured, 85 at worst.
    const worst = stoppingDistance(umPerS(200_000), mmPerS2(100), ms(100), {
      speed: 30,
      braking: 150,
    });
    expect(worst).toBe(20_600 + Math.ceil((206_000 * 206_000) / 170_000));
    const time = stoppingTime(umPerS(200_000), mmPerS2(100), ms(100), { speed: 30, braking: 150 });
    expect(time).toBe(100 + Math.ceil(206_000 / 85));
  });

  it('is 0 where there is nothing to brake', () => {
    expect(brakeDistance(umPerS(50_000), umPerS(60_000), mmPerS2(100), ms(300), exact)).toBe(0);
    expect(stoppingTime(umPerS(0), mmPerS2(100), ms(300), exact)).toBe(0);
  });

  it('braking in two parts takes the same distance as in one', () => {
    const speeds = fc.integer({ min: 0, max: 400_000 });
    fc.assert(
      fc.property(speeds, speeds, speeds, fc.integer({ min: 5, max: 300 }), (x, y, z, b) => {
        const [low, middle, high] = [x, y, z].sort((p, q) => p - q).map(umPerS) as [
          never,
          never,
          never,
        ];
        const whole = brakingDistance(high, low, mmPerS2(b));
        const parts =
          brakingDistance(high, middle, mmPerS2(b)) + brakingDistance(middle, low, mmPerS2(b));
        expect(parts - whole).toBeGreaterThanOrEqual(0);
        expect(parts - whole).toBeLessThanOrEqual(1);
      }),
    );
  });
});
