import { describe, expect, it } from 'vitest';
import {
  countBatches,
  countInputs,
  lastThatCounts,
  type Opening,
  type StoredBatch,
} from './counted-batches.js';

const batch = (number: number, inputs = `[{"at":${number},"kind":"deadline"}]`): StoredBatch => ({
  batch: number,
  inputs,
  chain: `chain ${number}`,
});
const four = [0, 1, 2, 3].map((number) => batch(number));
const opening = (run: number, takenUpTo: number): Opening => ({ run, takenUpTo });
const numbers = (stored: readonly StoredBatch[], after = -1, last = Infinity) => {
  const { counted, leftOut, tornAfter } = countBatches(stored, after, last);
  return { counted: counted.map((each) => each.batch), leftOut, tornAfter };
};

describe('which batches of an opening count', () => {
  it('all, when none followed', () => {
    expect(lastThatCounts([opening(1, -1)], 1)).toBe(Infinity);
    expect(numbers(four)).toEqual({ counted: [0, 1, 2, 3], leftOut: 0, tornAfter: null });
  });

  it('up to the one that the next went on from', () => {
    expect(lastThatCounts([opening(1, -1), opening(2, 1), opening(3, -1)], 1)).toBe(1);
    expect(numbers(four, -1, 1)).toEqual({ counted: [0, 1], leftOut: 2, tornAfter: null });
    expect(numbers(four, -1, -1)).toEqual({ counted: [], leftOut: 4, tornAfter: null });
  });

  it('from where a snapshot was made', () => {
    expect(numbers(four.slice(2), 1)).toEqual({ counted: [2, 3], leftOut: 0, tornAfter: null });
  });

  it('as far as they can be read, without a gap', () => {
    const torn = { counted: [0, 1], leftOut: 0, tornAfter: 1 };
    for (const text of ['[{"at":2,"ki', '', '{"at":2}', 'null'])
      expect(numbers(four.with(2, batch(2, text)))).toEqual(torn);
    expect(numbers(four.toSpliced(2, 1))).toEqual(torn);
    expect(numbers(four.slice(1))).toEqual({ counted: [], leftOut: 0, tornAfter: -1 });
  });

  it('not when what the next went on from is gone', () => {
    expect(numbers(four.slice(0, 2), -1, 2)).toMatchObject({ counted: [0, 1], tornAfter: 1 });
  });

  it('whatever lies torn behind those that count', () => {
    const end = batch(3, '[{"at');
    expect(numbers(four.with(3, end), -1, 2)).toMatchObject({ leftOut: 1, tornAfter: null });
  });
});

describe('the inputs of a session', () => {
  const at = (openings: Parameters<typeof countInputs>[0]) => {
    const { inputs, torn } = countInputs(openings);
    return { at: inputs.map((input) => input.at), torn };
  };

  it('are those of all its openings, one after the other', () => {
    const second = [batch(0, '[{"at":9,"kind":"deadline"}]')];
    expect(
      at([
        { ...opening(1, -1), batches: four },
        { ...opening(2, 1), batches: second },
      ]),
    ).toEqual({ at: [0, 1, 9], torn: null });
  });

  it('end where the journal is torn, and that is said', () => {
    const first = { ...opening(1, -1), batches: four.with(1, batch(1, '[')) };
    expect(at([first])).toEqual({
      at: [0],
      torn: 'The journal is torn after batch 0 of run 1; what came after is left out.',
    });
    expect(at([first, { ...opening(2, 3), batches: four }])).toMatchObject({ at: [0] });
    expect(at([{ ...opening(1, -1), batches: four.slice(1) }]).torn).toContain(
      'after the beginning of run 1',
    );
  });
});
