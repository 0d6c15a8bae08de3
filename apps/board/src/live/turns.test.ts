import fc from 'fast-check';
import { expect, it } from 'vitest';
import { Turns } from './turns.js';
import type { Waiting } from './turns.js';

const waiting = fc.uniqueArray(
  fc.constantFrom<Waiting>('labels', 'places', 'words', 'asides', 'clock', 'lines'),
);

it('moves trains with every second or third frame, and brings on nothing else that does not wait', () => {
  fc.assert(
    fc.property(fc.array(waiting, { minLength: 8, maxLength: 40 }), (waits) => {
      const turns = new Turns();
      const taken = waits.map((wait) => turns.next(new Set(wait)));
      taken.forEach((turn, at) => {
        if (turn === 'trains') expect(taken[at + 1]).not.toBe('trains');
        else if (turn !== null) expect(waits[at]).toContain(turn);
        if (at >= 2) expect(taken.slice(at - 2, at + 1)).toContain('trains');
      });
    }),
  );
});

it('brings on all that waits, one after the other', () => {
  const turns = new Turns();
  const all = new Set<Waiting>(['labels', 'places', 'words', 'asides', 'clock', 'lines']);
  const taken = Array.from({ length: 11 }, () => turns.next(all));
  expect(taken.join(' ')).toBe(
    'trains labels places trains words asides trains clock lines trains labels',
  );
});

it('moves trains alone while nothing else waits, with every second frame', () => {
  const turns = new Turns();
  const taken = [1, 2, 3, 4].map(() => turns.next(new Set()));
  expect(taken).toEqual(['trains', null, 'trains', null]);
});
