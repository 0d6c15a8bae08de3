import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { RowTable } from './row-table.js';

const signal = () => ({ read: vi.fn<() => void>(), changed: vi.fn<() => void>() });

type Deed =
  { readonly kind: 'set' | 'touch'; readonly number: number } | { readonly kind: 'clear' };
const deeds = fc.array(
  fc.oneof(
    fc.record({ kind: fc.constantFrom('set', 'touch'), number: fc.nat(6) }),
    fc.record({ kind: fc.constant('clear') }),
  ),
) as fc.Arbitrary<Deed[]>;

function run(table: RowTable<number>, deed: Deed, row: number): void {
  if (deed.kind === 'clear') table.clear();
  else if (deed.kind === 'set') table.set(deed.number, row);
  else table.touch(deed.number);
}

describe('a table of rows', () => {
  it('tells who watches of every number that was set, touched or cleared, once', () => {
    fc.assert(
      fc.property(deeds, fc.nat(5), (all, pause) => {
        const table = new RowTable<number>();
        const watch = table.watch();
        const told: number[][] = [];
        const expected: Set<number>[] = [];
        let since = new Set<number>();
        const held = new Set<number>();
        const look = (): void => {
          told.push([...watch.take()].toSorted());
          expected.push(since);
          since = new Set();
        };
        all.forEach((deed, at) => {
          if (deed.kind === 'clear') for (const number of held) since.add(number);
          else since.add(deed.number);
          if (deed.kind === 'clear') held.clear();
          if (deed.kind === 'set') held.add(deed.number);
          run(table, deed, at);
          if (at % (pause + 1) === 0) look();
        });
        look();
        expect(told).toEqual(expected.map((numbers) => [...numbers].toSorted()));
      }),
    );
  });

  it('tells readers of the first change after they read, and of no other', () => {
    const rows = signal();
    const table = new RowTable<string>(rows);
    table.set(1, 'a');
    rows.changed.mockClear();
    table.set(1, 'b');
    expect(rows.changed).not.toHaveBeenCalled();
    expect(table.get(1)).toBe('b');
    table.set(2, 'c');
    table.set(2, 'd');
    table.set(1, 'e');
    expect(rows.changed).toHaveBeenCalledOnce();
    expect([...table.values()]).toEqual(['e', 'd']);
    table.clear();
    expect(rows.changed).toHaveBeenCalledTimes(2);
  });

  it('tells who reads the numbers only when one comes or goes', () => {
    const numbers = signal();
    const table = new RowTable<string>(signal(), numbers);
    table.set(4, 'a');
    expect([...table.keys()]).toEqual([4]);
    numbers.changed.mockClear();
    table.set(4, 'b');
    expect(numbers.changed).not.toHaveBeenCalled();
    table.set(5, 'c');
    expect(numbers.changed).toHaveBeenCalledOnce();
    expect(table.size).toBe(2);
    table.clear();
    expect(numbers.changed).toHaveBeenCalledTimes(2);
  });

  it('tells nothing more to who stopped watching', () => {
    const table = new RowTable<string>();
    const watch = table.watch();
    table.set(1, 'a');
    watch.stop();
    table.set(2, 'b');
    expect([...watch.take()]).toEqual([1]);
  });
});
