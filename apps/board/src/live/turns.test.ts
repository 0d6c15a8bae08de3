import fc from 'fast-check';
import { expect, it } from 'vitest';
import { Turns } from './turns.js';

const waiting = fc.record({ words: fc.boolean(), lines: fc.boolean() });

it('moves trains in every fourth frame at least, then their labels, and tells words and draws lines only where they wait', () => {
  fc.assert(
    fc.property(fc.array(waiting, { minLength: 8, maxLength: 40 }), (waits) => {
      const turns = new Turns();
      const taken = waits.map((wait) => turns.next(wait));
      taken.forEach((turn, at) => {
        if (turn === 'words' || turn === 'lines') expect(waits[at]?.[turn]).toBe(true);
        if (turn === 'labels') expect(taken[at - 1]).toBe('trains');
        if (at >= 3) expect(taken.slice(at - 3, at + 1)).toContain('trains');
      });
    }),
  );
});

it('tells words that wait with every third frame, and draws lines in one of their own', () => {
  const turns = new Turns();
  const taken = [1, 2, 3, 4, 5, 6, 7].map((frame) => turns.next({ words: true, lines: frame > 4 }));
  expect(taken).toEqual(['trains', 'labels', 'words', 'trains', 'labels', 'words', 'lines']);
});
