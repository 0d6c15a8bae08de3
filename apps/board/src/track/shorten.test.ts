import fc from 'fast-check';
import { expect, it } from 'vitest';
import { shortened } from './shorten.js';

const measure = (text: string): number => [...text].length * 7;

it('keeps what has room, and both ends of what has not', () => {
  expect(shortened('Goods', 35, measure)).toBe('Goods');
  expect(shortened('Siding for freight 2', 63, measure)).toBe('Sidi…ht 2');
  expect(shortened('Siding for freight 2', 56, measure)).toBe('Sidi…t 2');
  expect(shortened('Siding', 0, measure)).toBe('…');
});

it('never takes more room than there is, and no less than one letter more would need', () => {
  fc.assert(
    fc.property(fc.string({ maxLength: 40 }), fc.integer({ min: 7, max: 300 }), (text, room) => {
      const short = shortened(text, room, measure);
      expect(measure(short)).toBeLessThanOrEqual(room);
      if (short !== text) expect(measure(short) + 7).toBeGreaterThan(room);
    }),
  );
});
