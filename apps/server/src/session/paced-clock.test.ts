import fc from 'fast-check';
import { expect, test } from 'vitest';
import { PacedClock } from './paced-clock.js';

const pace = fc.double({ min: 0.1, max: 60, noNaN: true });

test('runs at its pace', () => {
  let wall = 1_000;
  const clock = new PacedClock(() => wall, 50, 10);
  wall += 7;
  expect(clock.now()).toBe(120);
  expect(clock.wallUntil(170)).toBe(5);
  expect(clock.wallUntil(100)).toBe(0);
});

test('a change of pace never makes time jump or go back', () => {
  fc.assert(
    fc.property(
      fc.array(fc.record({ pass: fc.double({ min: 0, max: 1e6, noNaN: true }), pace })),
      (changes) => {
        let wall = 0;
        const clock = new PacedClock(() => wall, 0, 1);
        let last = 0;
        let exact = 0;
        let rate = 1;
        for (const change of changes) {
          wall += change.pass;
          exact += change.pass * rate;
          const before = clock.now();
          clock.setPace(change.pace);
          rate = change.pace;
          expect(clock.now()).toBe(before);
          expect(before).toBeGreaterThanOrEqual(last);
          expect(Math.abs(before - exact)).toBeLessThanOrEqual(1 + exact * 1e-9);
          last = before;
        }
      },
    ),
  );
});

test('slipping leaves out what passed meanwhile', () => {
  let wall = 0;
  const clock = new PacedClock(() => wall, 0, 2);
  wall = 1_000;
  clock.slipTo(300);
  wall = 1_010;
  expect(clock.now()).toBe(320);
});
