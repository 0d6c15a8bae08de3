import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { trainRow } from '../testing/train-row.js';
import { extentAt, headAt, speedAt } from './train-motion.js';

const motion = fc.record({
  head: fc.integer({ min: 0, max: 5000 }),
  speed: fc.integer({ min: 0, max: 400 }),
  target: fc.integer({ min: 0, max: 400 }),
  acceleration: fc.integer({ min: -200, max: 200 }).filter((rate) => rate !== 0),
  since: fc.integer({ min: 0, max: 10_000 }),
});

describe('dead reckoning', () => {
  it('agrees with stepping through the motion in milliseconds', () => {
    fc.assert(
      fc.property(motion, fc.integer({ min: 0, max: 4000 }), (start, span) => {
        const rate = Math.abs(start.acceleration) / 1000;
        let { head, speed } = start;
        for (let step = 0; step < span; step++) {
          const change = start.target - speed;
          const next = speed + Math.sign(change) * Math.min(Math.abs(change), rate);
          head += (speed + next) / 2 / 1000;
          speed = next;
        }
        expect(speedAt(start, start.since + span)).toBeCloseTo(speed, 6);
        expect(Math.abs(headAt(start, start.since + span) - head)).toBeLessThan(0.5);
      }),
      { numRuns: 50 },
    );
  });

  it('does not go back before the moment it is reckoned from', () => {
    const start = { head: 100, speed: 50, target: 50, acceleration: 10, since: 2000 };
    expect(headAt(start, 1000)).toBe(100);
  });
});

describe('the stretch a train covers', () => {
  it('reaches back its length from the head', () => {
    expect(extentAt(trainRow({}), 2000)).toEqual({ tail: 800, head: 1200 });
  });

  it('is never drawn beyond the mark it has authority to', () => {
    expect(extentAt(trainRow({}), 60_000)).toEqual({ tail: 1100, head: 1500 });
  });

  it('stays where it is reported when that is beyond the mark already', () => {
    expect(extentAt(trainRow({ mark: 900 }), 0).head).toBe(1000);
  });
});
