import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assignmentsOf } from './assignments.js';

const anywhere = (): boolean => true;

describe('the assignments of trains to places', () => {
  it('are all orders where every place will do', () => {
    expect(assignmentsOf(0, anywhere, 64)).toEqual([[]]);
    expect(assignmentsOf(2, anywhere, 64)).toEqual([
      [0, 1],
      [1, 0],
    ]);
    expect(assignmentsOf(4, anywhere, 64)).toHaveLength(24);
  });

  it('are too many beyond the number kept, not fewer', () => {
    expect(assignmentsOf(5, anywhere, 64)).toBeNull();
    expect(assignmentsOf(60, anywhere, 64)).toBeNull();
  });

  it('are found among many trains when few of them may be exchanged', () => {
    const pairs = (train: number, place: number): boolean => train >> 1 === place >> 1;
    expect(assignmentsOf(12, pairs, 64)).toHaveLength(64);
    expect(assignmentsOf(14, pairs, 64)).toBeNull();
  });

  it('are those orders that allow every train its place, and no others', () => {
    const table = fc.array(fc.boolean(), { minLength: 16, maxLength: 16 });
    fc.assert(
      fc.property(table, (cells) => {
        const allowed = (train: number, place: number): boolean => cells[train * 4 + place]!;
        const all = assignmentsOf(4, anywhere, 64)!;
        const expected = all.filter((way) => way.every((place, train) => allowed(train, place)));
        expect(assignmentsOf(4, allowed, 64)).toEqual(expected);
      }),
    );
  });
});
