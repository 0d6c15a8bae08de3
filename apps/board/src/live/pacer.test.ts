import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Pacer } from './pacer.js';

const tables = fc.array(
  fc.array(fc.tuple(fc.nat(30), fc.nat(3)), { maxLength: 30 }).map((rows) => new Map(rows)),
  { minLength: 1, maxLength: 8 },
);

describe('rows told a few at a time', () => {
  it('come to be all that the table holds, and no more', () => {
    fc.assert(
      fc.property(tables, fc.integer({ min: 1, max: 7 }), (all, most) => {
        const pacer = new Pacer<number>(Object.is);
        const told = new Map<number, number>();
        const look = (table: ReadonlyMap<number, number>): void => {
          const taken = pacer.take(table, most);
          expect(taken.length).toBeLessThanOrEqual(most);
          for (const [number, row] of taken)
            if (row === null) told.delete(number);
            else told.set(number, row);
        };
        for (const table of all) look(table);
        const last = all.at(-1) ?? new Map<number, number>();
        while (pacer.left > 0) look(last);
        expect(told).toEqual(last);
        expect(pacer.take(last, most)).toEqual([]);
      }),
    );
  });

  it('are told in the order in which they changed, as they are by then', () => {
    const pacer = new Pacer<string>(Object.is);
    const table = new Map([0, 1, 2, 3, 4, 5, 6, 7].map((number) => [number, 'a']));
    expect(pacer.take(table, Infinity)).toHaveLength(8);
    for (const number of [6, 7]) table.set(number, 'b');
    expect(pacer.take(table, 0)).toEqual([]);
    for (const number of [0, 1, 2]) table.set(number, 'b');
    expect(pacer.take(table, 1)).toEqual([[6, 'b']]);
    table.set(0, 'c').set(7, 'c').delete(5);
    expect(pacer.take(table, 3)).toEqual([
      [7, 'c'],
      [0, 'c'],
      [1, 'b'],
    ]);
    expect(pacer.left).toBeGreaterThan(0);
    expect(pacer.take(table, 3)).toEqual([
      [2, 'b'],
      [5, null],
    ]);
  });

  it('are not told again when what took their place tells the same', () => {
    const pacer = new Pacer<number>((one, other) => Math.floor(one) === Math.floor(other));
    pacer.take(new Map([[0, 1.1]]), Infinity);
    expect(pacer.take(new Map([[0, 1.9]]), Infinity)).toEqual([]);
    expect(pacer.left).toBe(0);
    expect(pacer.take(new Map([[0, 2.2]]), Infinity)).toEqual([[0, 2.2]]);
  });
});
