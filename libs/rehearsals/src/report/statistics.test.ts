import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meanOf, spreadOf, studentQuantile, wilson } from './statistics.js';

describe('a share', () => {
  it('of eight in ten lies between 49.02 and 94.33 percent by the formula of Wilson (1927), worked by hand', () => {
    const { percent, low, high } = wilson(8, 10);
    expect(percent).toBe(80);
    expect(low).toBeCloseTo(49.02, 2);
    expect(high).toBeCloseTo(94.33, 2);
  });

  it('of all or none never leaves 0 to 100, and of nothing can be anything', () => {
    expect(wilson(20, 20)).toMatchObject({ percent: 100, high: 100 });
    expect(wilson(0, 20)).toMatchObject({ percent: 0, low: 0 });
    expect(wilson(0, 0)).toMatchObject({ low: 0, high: 100 });
  });

  it('lies within its bounds, which draw nearer with more trials', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 500 }), fc.nat(500), (of, drawn) => {
        const hits = Math.min(of, drawn);
        const { percent, low, high } = wilson(hits, of);
        expect(low).toBeLessThanOrEqual(percent + 1e-9);
        expect(high).toBeGreaterThanOrEqual(percent - 1e-9);
        const more = wilson(hits * 4, of * 4);
        expect(more.high - more.low).toBeLessThan(high - low);
      }),
    );
  });
});

it('a mean of 1, 2, 3 lies 4.303 ÷ √3 about 2 (Student’s table), and never beyond what it can be', () => {
  const { mean, low, high } = meanOf([1, 2, 3]);
  expect(mean).toBe(2);
  expect(low).toBeCloseTo(2 - 4.303 / Math.sqrt(3), 9);
  expect(high).toBeCloseTo(2 + 4.303 / Math.sqrt(3), 9);
  expect(meanOf([1, 2, 3], 0, 3)).toMatchObject({ low: 0, high: 3 });
  expect(meanOf([5])).toEqual({ mean: 5, low: null, high: null });
});

it('percentiles are those of nearest rank', () => {
  const values = Array.from({ length: 20 }, (_, index) => 20 - index);
  expect(spreadOf(values)).toEqual({
    count: 20,
    mean: 10.5,
    p10: 2,
    median: 10,
    p90: 18,
    p95: 19,
    most: 20,
  });
  expect(spreadOf([])).toMatchObject({ count: 0, median: 0 });
});

describe('the quantile of Student', () => {
  // Two-sided 95 %, from the tables of any textbook of statistics (from memory).
  it.each([
    [29, 2.045],
    [30, 2.042],
    [40, 2.021],
    [60, 2.0],
    [120, 1.98],
    [1_000_000, 1.96],
  ])('for %i degrees of freedom is %f', (freedom, quantile) => {
    expect(studentQuantile(freedom + 1)).toBeCloseTo(quantile, 3);
  });

  it('falls from each number of values to the next', () => {
    for (let values = 3; values < 200; values++)
      expect(studentQuantile(values)).toBeLessThan(studentQuantile(values - 1));
  });
});
