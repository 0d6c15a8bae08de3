import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mm, mmPerS, mmPerS2 } from '../units.js';
import { runningTime, type Stretch } from './running-time.js';

/** Prototype metres, m/s and m/s² times 1000 are millimetres, mm/s and mm/s². */
const stretch = (metres: number, metresPerSecond: number): Stretch => ({
  length: mm(metres * 1000),
  limit: mmPerS(metresPerSecond * 1000),
});
const performance = (a: number, b: number) => ({
  acceleration: mmPerS2(a * 1000),
  braking: mmPerS2(b * 1000),
});

/**
 * Stop to stop. Formula t = v/a + v/b + (d − v²/2a − v²/2b)/v if it fits, else v' = √(2dab/(a+b)), t = v'/a + v'/b;
 * source of the kinematics: C. Stöber, Fahrzeiten; the vectors were computed from it independently.
 */
const stopToStop = [
  { metres: 2000, kmh: 80, a: 0.5, b: 0.5, seconds: 134.444 },
  { metres: 500, kmh: 100, a: 0.5, b: 0.7, seconds: 58.554 },
  { metres: 5000, kmh: 120, a: 0.5, b: 0.5, seconds: 216.667 },
  { metres: 1000, kmh: 60, a: 0.3, b: 0.3, seconds: 115.556 },
  { metres: 300, kmh: 100, a: 0.5, b: 0.5, seconds: 48.99 },
];

/** Derived from the same trapezoid by hand. */
const trapezoids = [
  { metres: 1000, v: 20, a: 0.5, b: 0.5, seconds: 90 },
  { metres: 500, v: 20, a: 0.5, b: 0.5, seconds: 63.2456 },
  { metres: 1000, v: 20, a: 0.4, b: 0.8, seconds: 87.5 },
];

describe('running time', () => {
  it.each(stopToStop)('$metres m at $kmh km/h as published', ({ metres, kmh, a, b, seconds }) => {
    const time = runningTime([stretch(metres, kmh / 3.6)], performance(a, b));
    expect(time / 1000).toBeCloseTo(seconds, 2);
  });

  it.each(trapezoids)('$metres m at $v m/s', ({ metres, v, a, b, seconds }) => {
    expect(runningTime([stretch(metres, v)], performance(a, b)) / 1000).toBeCloseTo(seconds, 2);
  });

  it('passes the ends at a speed, if there is room for it', () => {
    const p = performance(0.5, 0.5);
    expect(runningTime([stretch(1000, 20)], p, mmPerS(20_000), mmPerS(20_000))).toBe(50_000);
    expect(runningTime([stretch(1000, 20)], p, mmPerS(20_000))).toBe(70_000);
    expect(runningTime([], p)).toBe(0);
  });

  const stretches = fc.array(
    fc.record({
      length: fc.integer({ min: 1, max: 4000 }),
      limit: fc.integer({ min: 40, max: 300 }),
    }),
    { minLength: 1, maxLength: 5 },
  );
  const performances = fc.record({
    a: fc.integer({ min: 20, max: 200 }),
    b: fc.integer({ min: 20, max: 200 }),
  });

  it('is the same where a stretch is cut, backwards, and by fine integration', () => {
    fc.assert(
      fc.property(stretches, performances, (list, { a, b }) => {
        const way = list.map(({ length, limit }) => ({ length: mm(length), limit: mmPerS(limit) }));
        const p = { acceleration: mmPerS2(a), braking: mmPerS2(b) };
        const time = runningTime(way, p);
        const cut = way.flatMap(({ length, limit }) => [
          { length: mm(length / 4), limit },
          { length: mm((length * 3) / 4), limit },
        ]);
        expect(Math.abs(runningTime(cut, p) - time)).toBeLessThanOrEqual(1);
        const back = runningTime([...way].reverse(), {
          acceleration: mmPerS2(b),
          braking: mmPerS2(a),
        });
        expect(Math.abs(back - time)).toBeLessThanOrEqual(1);
        expect(Math.abs(integrated(way, a, b) - time)).toBeLessThan(0.02 * time + 60);
      }),
      { numRuns: 60 },
    );
  });
});

/** Reference: the greatest speed every half millimetre or two hundredth of the way, forwards and backwards, summed up. */
function integrated(way: readonly Stretch[], a: number, b: number): number {
  const total = way.reduce((sum, { length }) => sum + length, 0);
  const perMillimetre = Math.max(2, Math.ceil(200 / total));
  const step = 1 / perMillimetre;
  const limits = way.flatMap(({ length, limit }) =>
    new Array<number>(length * perMillimetre).fill(limit),
  );
  const squares = [0];
  limits.forEach((limit, i) => {
    const next = Math.min(limit, limits[i + 1] ?? 0);
    squares.push(Math.min((squares[i] ?? 0) + 2 * a * step, next * next));
  });
  for (let i = limits.length - 1; i >= 0; i -= 1) {
    squares[i] = Math.min(squares[i] ?? 0, (squares[i + 1] ?? 0) + 2 * b * step);
  }
  const speeds = squares.map((square) => Math.sqrt(square));
  let seconds = 0;
  limits.forEach((_, i) => {
    seconds += (2 * step) / ((speeds[i] ?? 0) + (speeds[i + 1] ?? 0) || 1);
  });
  return seconds * 1000;
}
