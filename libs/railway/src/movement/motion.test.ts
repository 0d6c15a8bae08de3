import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { instant, mmPerS2, um, umPerS } from '../units.js';
import {
  advance,
  positionAt,
  speedAt,
  standingAt,
  standstillAt,
  timeToTravel,
  withTarget,
  type Motion,
  type Performance,
} from './motion.js';

const performance: Performance = { acceleration: mmPerS2(50), braking: mmPerS2(100) };

const motions = fc.record({
  position: fc.integer({ min: -1_000_000, max: 1_000_000 }).map(um),
  speed: fc.integer({ min: 0, max: 400_000 }).map(umPerS),
  target: fc.integer({ min: 0, max: 400_000 }).map(umPerS),
  since: fc.integer({ min: 0, max: 10_000 }).map(instant),
});
const performances = fc.record({
  acceleration: fc.integer({ min: 5, max: 300 }).map(mmPerS2),
  braking: fc.integer({ min: 5, max: 300 }).map(mmPerS2),
});

/** Reference: the speed summed over quarters of a millisecond, by the trapezoid rule. */
function integrate(motion: Motion, by: Performance, elapsed: number): number {
  const parts = elapsed * 4;
  let speed: number = motion.speed;
  let sum = 0;
  for (let i = 0; i < parts; i += 1) {
    const before = speed;
    speed =
      speed < motion.target
        ? Math.min(motion.target, speed + by.acceleration / 4)
        : Math.max(motion.target, speed - by.braking / 4);
    sum += (before + speed) / 2 / 4;
  }
  return motion.position + sum / 1000;
}

describe('motion', () => {
  it('starts, runs and stops as the formulas of school physics say', () => {
    const started = withTarget(
      standingAt(um(0), instant(0)),
      performance,
      umPerS(100_000),
      instant(0),
    );
    expect(positionAt(started, performance, instant(1000))).toBe(25_000);
    expect(speedAt(started, performance, instant(1000))).toBe(50_000);
    expect(positionAt(started, performance, instant(2000))).toBe(100_000);
    expect(positionAt(started, performance, instant(3000))).toBe(200_000);
    const stopped = withTarget(started, performance, umPerS(0), instant(3000));
    expect(standstillAt(stopped, performance)).toBe(4000);
    expect(positionAt(stopped, performance, instant(9000))).toBe(250_000);
    expect(standstillAt(started, performance)).toBeNull();
  });

  it('agrees with a fine integration', () => {
    fc.assert(
      fc.property(
        motions,
        performances,
        fc.integer({ min: 0, max: 6000 }),
        (motion, by, elapsed) => {
          const now = instant(motion.since + elapsed);
          expect(
            Math.abs(positionAt(motion, by, now) - integrate(motion, by, elapsed)),
          ).toBeLessThan(50);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('can be written down anew at any time', () => {
    fc.assert(
      fc.property(
        motions,
        performances,
        fc.integer({ min: 0, max: 9000 }),
        fc.integer({ min: 0, max: 9000 }),
        (motion, by, first, second) => {
          const half = advance(motion, by, instant(motion.since + first));
          const end = instant(motion.since + first + second);
          expect(
            Math.abs(positionAt(half, by, end) - positionAt(motion, by, end)),
          ).toBeLessThanOrEqual(1);
          expect(speedAt(half, by, end)).toBe(speedAt(motion, by, end));
          expect(Number.isInteger(half.position) && Number.isInteger(half.speed)).toBe(true);
        },
      ),
    );
  });

  it('tells to the millisecond when a distance has been travelled', () => {
    fc.assert(
      fc.property(
        motions,
        performances,
        fc.integer({ min: 1, max: 3_000_000 }),
        (motion, by, distance) => {
          const time = timeToTravel(motion, by, um(distance));
          if (time === null) {
            expect(motion.target).toBe(0);
            const end = standstillAt(motion, by) ?? motion.since;
            expect(positionAt(motion, by, end) - motion.position).toBeLessThanOrEqual(distance);
            return;
          }
          const at = (t: number) =>
            positionAt(motion, by, instant(motion.since + t)) - motion.position;
          expect(at(time)).toBeGreaterThanOrEqual(distance - 1);
          if (time > 0) expect(at(time - 1)).toBeLessThanOrEqual(distance);
        },
      ),
    );
  });
});
