import { afterEach, describe, expect, it } from 'vitest';
import { Pauses } from './pauses.js';

const opened: Pauses[] = [];
afterEach(() => opened.splice(0).forEach((pauses) => pauses.close()));

function noted(...pauses: readonly (readonly [what: string, from: number, to: number])[]): Pauses {
  const notes = new Pauses();
  opened.push(notes);
  for (const [what, from, to] of pauses) notes.note(what, from, to);
  return notes;
}

describe('pauses', () => {
  it('explain a delay by what lay in it, longest first', () => {
    const pauses = noted(
      ['before', 0, 9],
      ['partly', 5, 12],
      ['within', 13, 18],
      ['after', 30, 40],
    );
    expect(pauses.between(10, 20)).toBe('within 5.0 ms, partly 2.0 ms');
  });

  it('sum up those beyond the first three', () => {
    const pauses = noted(['a', 0, 5], ['b', 5, 9], ['c', 9, 12], ['d', 12, 14], ['e', 14, 15]);
    expect(pauses.between(0, 20)).toBe('a 5.0 ms, b 4.0 ms, c 3.0 ms, 2 others, 3.0 ms');
  });

  it('keep the longest of each kind until told to forget', () => {
    const pauses = noted(['a', 0, 5], ['b', 5, 15], ['a', 20, 27]);
    expect(pauses.longest()).toBe('b 10.0 ms, a 7.0 ms');
    pauses.forget();
    expect(pauses.longest()).toBe('');
  });

  it('say so when nothing of the program was in the way', () => {
    expect(noted(['short', 0, 0.1]).between(0, 20)).toBe(
      'nothing of the program: the timer or the machine',
    );
  });

  it('note how long work took, and hand on its result', () => {
    const pauses = noted();
    const from = performance.now();
    const result = pauses.during('busy', () => {
      while (performance.now() - from < 3);
      return 7;
    });
    expect(result).toBe(7);
    expect(pauses.between(from, performance.now())).toMatch(/^busy \d+\.\d ms/);
  });
});
