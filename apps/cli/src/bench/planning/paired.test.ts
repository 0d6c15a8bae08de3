import { describe, expect, it } from 'vitest';
import { medianOf } from '../median.js';
import { pairedSaving } from './paired.js';

describe('the saving in pairs', () => {
  it('is the mean difference over the mean of the base, with the interval of the paired differences', () => {
    // Differences 1, 2, 3: mean 2, standard deviation 1, so 2 ± 4.303 / √3 of a mean base of 10.
    const saving = pairedSaving([10, 10, 10], [9, 8, 7]);
    expect(saving.percent).toBeCloseTo(20, 9);
    expect(saving.low).toBeCloseTo(20 - (4.303 / Math.sqrt(3)) * 10, 6);
    expect(saving.high).toBeCloseTo(20 + (4.303 / Math.sqrt(3)) * 10, 6);
  });

  it('claims nothing from a single pair', () => {
    expect(pairedSaving([10], [5])).toMatchObject({ low: -Infinity, high: Infinity });
  });
});

describe('the median', () => {
  it.each([
    [[3, 1, 2], 2],
    [[4, 1, 2, 3], 2.5],
    [[], 0],
  ])('of %j is %d', (values, median) => {
    expect(medianOf(values)).toBe(median);
  });
});
