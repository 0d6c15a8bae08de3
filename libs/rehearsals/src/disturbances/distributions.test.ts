import { forkStream } from '@blockbell/simulation';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawFrom, exponential } from './distributions.js';
import { naturalLogarithm } from './logarithm.js';

const DRAWS = 200_000;
const many = (draw: () => number): number[] => Array.from({ length: DRAWS }, draw);
const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

it('the logarithm is that of the library, to its last digits', () => {
  fc.assert(
    fc.property(fc.double({ min: 1e-12, max: 1e9, noNaN: true }), (x) => {
      expect(Math.abs(naturalLogarithm(x) - Math.log(x))).toBeLessThan(1e-13 * 30);
    }),
  );
});

describe('delays drawn', () => {
  /**
   * For X exponential with mean m: E[max(0, X − b)] = m·e^(−b/m) and P(X > b) = e^(−b/m), since what is left of X beyond b is
   * exponential again (memorylessness; any textbook of probability, such as W. Feller's, volume II, chapter I, from memory).
   * With m = 2 and b = 3: 0.4463 and 0.2231.
   */
  it('leave behind a buffer what theory says of exponential delays', () => {
    const stream = forkStream(1, 'check');
    const left = many(() => exponential(stream, 2) - 3);
    // Four standard errors: √(2m²·e^(−b/m) − 0.4463²) ÷ √200,000 = 0.0028, and √(0.2231 · 0.7769) ÷ √200,000 = 0.0009.
    expect(Math.abs(mean(left.map((each) => Math.max(0, each))) - 0.4463)).toBeLessThan(0.0113);
    expect(Math.abs(left.filter((each) => each > 0).length / DRAWS - 0.2231)).toBeLessThan(0.0038);
  });

  it('have the mean and the spread asked for', () => {
    const stream = forkStream(2, 'check');
    const normal = many(() =>
      drawFrom(stream, { kind: 'normal', mean: 60, deviation: 10, least: 0, most: 120 }),
    );
    expect(mean(normal)).toBeCloseTo(60, 0);
    const squares = normal.map((each) => (each - 60) * (each - 60));
    expect(Math.sqrt(mean(squares))).toBeCloseTo(10, 0);
    expect(mean(many(() => drawFrom(stream, { kind: 'uniform', least: 2, most: 6 })))).toBeCloseTo(
      4,
      1,
    );
    expect(drawFrom(stream, { kind: 'fixed', value: 7 })).toBe(7);
  });

  it('stay within their bounds', () => {
    const numbers = fc.tuple(fc.nat(500), fc.nat(500), fc.integer({ min: 1, max: 300 }));
    fc.assert(
      fc.property(numbers, fc.nat(), ([mid, low, span], seed) => {
        const stream = forkStream(seed, 'bounds');
        const [least, most] = [low, low + span];
        const normal = drawFrom(stream, { kind: 'normal', mean: mid, deviation: 50, least, most });
        expect(normal).toBeGreaterThanOrEqual(least);
        expect(normal).toBeLessThanOrEqual(most);
        const cut = drawFrom(stream, { kind: 'exponential', mean: mid + 1, most });
        expect(cut).toBeGreaterThanOrEqual(0);
        expect(cut).toBeLessThanOrEqual(most);
      }),
    );
  });
});
