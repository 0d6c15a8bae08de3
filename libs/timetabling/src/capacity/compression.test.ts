import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compressedTime } from './compression.js';

/** One section of single line: seven minutes between entries from both sides, three between following ones. */
const onSingleLine = (order: string): number =>
  compressedTime(order.length, (first, second) => (order[first] === order[second] ? 3 : 7));

describe('compression', () => {
  // A worked example by hand: four trains an hour over one section of single line; common practice, no source.
  it.each([
    ['EWEW', 28, 46.7],
    ['EEWW', 20, 33.3],
  ])('of %s takes %d min, %d %% of an hour', (order, minutes, share) => {
    expect(onSingleLine(order)).toBe(minutes);
    expect(Math.round((1000 * onSingleLine(order)) / 60) / 10).toBe(share);
  });

  it('of equal headways is their number times one of them, and less when trains of a kind are bundled', () => {
    expect(compressedTime(0, () => 5)).toBe(0);
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 20 }),
        fc.integer({ min: 1, max: 9 }),
        (count, each) => {
          expect(compressedTime(count, () => each)).toBe(count * each);
        },
      ),
    );
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom('E', 'W'), { minLength: 2, maxLength: 12 }),
        (trains) => {
          const bundled = [...trains].sort().join('');
          expect(onSingleLine(bundled)).toBeLessThanOrEqual(onSingleLine(trains.join('')));
        },
      ),
    );
  });
});
