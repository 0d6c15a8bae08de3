import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  directionOf,
  frontAt,
  secondsToCover,
  speedAt,
  steady,
  towards,
  whenMoved,
} from './motion.js';

const KM_H = 1000 / 3.6;

/**
 * Stop-to-stop running: distance m, km/h, m/s², m/s², s, peak km/h. Vectors computed with the kinematics
 * of a published description of running times (t = v/a + v/b + rest/v; too short: v = √(2dab/(a+b))).
 */
const STOP_TO_STOP = [
  [2000, 80, 0.5, 0.5, 134.444],
  [5000, 120, 0.5, 0.5, 216.667],
  [1000, 60, 0.3, 0.3, 115.556],
] as const;

/** Braking from km/h at m/s²: m, s. Same table of published examples (v²/2b, v/b). */
const BRAKING = [
  [160, 0.5, 1975.31, 88.89],
  [120, 0.5556, 999.92, 60],
  [120, 0.5, 1111.11, 66.67],
  [100, 0.5, 771.6, 55.56],
  [80, 0.3, 823.05, 74.07],
  [60, 0.2, 694.44, 83.33],
] as const;

describe('motion between events', () => {
  it.each(STOP_TO_STOP)(
    'runs %i m at %i km/h (%f, %f m/s²) in %f s',
    (metres, kmh, a, b, seconds) => {
      const top = kmh * KM_H;
      const rates = { acceleration: a * 1000, braking: b * 1000 };
      const start = towards(0, 0, 0, top, rates);
      const cruise = steady(start.until, frontAt(start, start.until), top);
      const brakingDistance = (top * top) / (2 * rates.braking);
      const brakeAt = whenMoved(cruise, metres * 1000 - brakingDistance - cruise.front);
      const brake = towards(brakeAt, frontAt(cruise, brakeAt), top, 0, rates);
      expect(brake.until / 1000).toBeCloseTo(seconds, 3);
      expect(frontAt(brake, brake.until)).toBeCloseTo(metres * 1000, 3);
      expect(speedAt(brake, brake.until)).toBe(0);
    },
  );

  it.each(BRAKING)('brakes from %i km/h at %f m/s² in %f m and %f s', (kmh, b, metres, seconds) => {
    const speed = kmh * KM_H;
    const brake = towards(0, 0, speed, 0, { acceleration: 1, braking: b * 1000 });
    expect(Math.abs(frontAt(brake, brake.until) / 1000 - metres)).toBeLessThan(0.006);
    expect(Math.abs(brake.until / 1000 - seconds)).toBeLessThan(0.006);
  });

  it('turns by way of standing', () => {
    const motion = towards(1000, 50, 100, -60, { acceleration: 20, braking: 40 });
    expect(motion).toMatchObject({ acceleration: -40, until: 3500, goalSpeed: 0 });
    const away = towards(3500, frontAt(motion, 3500), 0, -60, { acceleration: 20, braking: 40 });
    expect(away).toMatchObject({ acceleration: -20, until: 6500, goalSpeed: -60 });
    expect(directionOf(away)).toBe(-1);
  });

  it('knows when a distance is covered: there, at that time, it is covered; before, it is not', () => {
    const speed = fc.integer({ min: -300, max: 300 });
    const rate = fc.integer({ min: 5, max: 200 });
    fc.assert(
      fc.property(
        speed,
        speed,
        rate,
        rate,
        fc.nat(3000),
        (from, goal, acceleration, braking, distance) => {
          const motion = towards(500, 10, from, goal, { acceleration, braking });
          const at = whenMoved(motion, distance);
          const direction = directionOf(motion);
          const moved = (time: number): number => direction * (frontAt(motion, time) - 10);
          if (at === Infinity) {
            expect(direction === 0 || moved(motion.until) < distance + 1e-6).toBe(true);
          } else {
            expect(at).toBeLessThanOrEqual(motion.until);
            expect(moved(at)).toBeCloseTo(distance, 6);
            if (at > 501) expect(moved(at - 1)).toBeLessThan(distance);
          }
        },
      ),
    );
  });

  it('never covers what lies behind a turn: braking to a stand 1 mm short', () => {
    const motion = towards(0, 0, 100, 0, { acceleration: 50, braking: 50 });
    expect(whenMoved(motion, 99)).toBeLessThan(motion.until);
    expect(whenMoved(motion, 101)).toBe(Infinity);
    expect(secondsToCover(5, -10, 1)).toBeCloseTo(20.4881, 4);
    expect(secondsToCover(5, -10, -1)).toBe(Infinity);
  });
});
