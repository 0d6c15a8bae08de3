import fc from 'fast-check';
import { expect, it } from 'vitest';
import { Turns } from './turns.js';

it('moves trains in every third frame at least, then their labels, and tells words only where any wait', () => {
  fc.assert(
    fc.property(fc.array(fc.boolean(), { minLength: 6, maxLength: 40 }), (waiting) => {
      const turns = new Turns();
      const taken = waiting.map((wait) => turns.next(wait));
      taken.forEach((turn, at) => {
        if (turn === 'words') expect(waiting[at]).toBe(true);
        if (turn === 'labels') expect(taken[at - 1]).toBe('trains');
        if (at >= 2) expect(taken.slice(at - 2, at + 1)).toContain('trains');
      });
    }),
  );
});

it('tells words that wait with every third frame', () => {
  const turns = new Turns();
  expect([1, 2, 3, 4, 5, 6].map(() => turns.next(true))).toEqual([
    'trains',
    'labels',
    'words',
    'trains',
    'labels',
    'words',
  ]);
});
