import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { settle, stopsAt, whenBeyond, type Motion, type Traits } from './motion.js';

const traits: Traits = {
  length: 180_000,
  acceleration: 300,
  braking: 250,
  speed: 1000,
  fasterAfter: 0,
  slowerAfter: 150,
};
const motion = fc.record({
  head: fc.integer({ min: 0, max: 1_000_000 }),
  speed: fc.integer({ min: 0, max: 200_000 }),
  target: fc.constantFrom(0, 40_000, 150_000),
  since: fc.constant(1000),
});
const after = (start: Motion, at: number): Motion => {
  const moved = { ...start };
  settle(moved, traits, at);
  return moved;
};

describe('a body’s motion', () => {
  it('is the same in one go as in two, but for rounding', () => {
    fc.assert(
      fc.property(motion, fc.nat(5000), fc.nat(5000), (start, first, second) => {
        const twice = after(after(start, 1000 + first), 1000 + first + second);
        const once = after(start, 1000 + first + second);
        expect(Math.abs(twice.head - once.head)).toBeLessThanOrEqual(20);
        expect(Math.abs(twice.speed - once.speed)).toBeLessThanOrEqual(1);
      }),
    );
  });

  it('is beyond a place for the first time when it says so', () => {
    fc.assert(
      fc.property(motion, fc.nat(800_000), (start, distance) => {
        const place = start.head + distance;
        const at = whenBeyond(start, traits, place);
        if (at === null) {
          expect(after(start, 600_000).head).toBeLessThanOrEqual(place);
          return;
        }
        expect(after(start, at).head).toBeGreaterThan(place);
        // A place is rounded to the next µm.
        if (at > start.since) expect(after(start, at - 1).head).toBeLessThanOrEqual(place + 1);
      }),
    );
  });

  it('comes to a stand where braking evenly from its speed takes it: v·t + v²/2b', () => {
    // 150 mm/s for 150 ms is 22.5 mm; 150² ÷ (2 × 250) is 45 mm.
    expect(stopsAt({ head: 0, speed: 150_000, target: 150_000, since: 0 }, traits)).toBe(67_500);
  });
});
