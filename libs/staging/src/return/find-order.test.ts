import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findOrder } from './find-order.js';
import { bruteForce, yardMover, type SmallYard } from './testing/small-yard.js';

/** Places joined at random, and trains on them. */
const anyYard = fc
  .record({
    places: fc.integer({ min: 2, max: 7 }),
    parents: fc.array(fc.nat(), { minLength: 7, maxLength: 7 }),
    extra: fc.array(fc.tuple(fc.nat(6), fc.nat(6)), { maxLength: 2 }),
    order: fc.array(fc.nat(), { minLength: 7, maxLength: 7 }),
    homes: fc.array(fc.nat(), { minLength: 7, maxLength: 7 }),
    trains: fc.integer({ min: 1, max: 4 }),
  })
  .map(({ places, parents, extra, order, homes, trains }): SmallYard => {
    const joined: number[][] = Array.from({ length: places }, () => []);
    const join = (a: number, b: number): void => {
      if (a === b || a >= places || b >= places || joined[a]!.includes(b)) return;
      joined[a]!.push(b);
      joined[b]!.push(a);
    };
    for (let place = 1; place < places; place++) {
      // Now and then a part that nothing leads to.
      if (parents[place - 1]! % 13 !== 12) join(place, parents[place - 1]! % place);
    }
    for (const [a, b] of extra) join(a, b);
    const shuffled = (keys: readonly number[]): number[] =>
      Array.from({ length: places }, (_, place) => place).sort(
        (a, b) => keys[a]! - keys[b]! || a - b,
      );
    const [from, home] = [shuffled(order), shuffled(homes)];
    return {
      joined,
      trains: Array.from({ length: Math.min(trains, places) }, (_, train) => ({
        from: from[train]!,
        home: home[train]!,
      })),
    };
  });

const solve = (yard: SmallYard, effort?: number) =>
  findOrder(
    yard.trains.map(({ from, home }) => yardMover(yard, from, home)),
    new Set(),
    effort,
  );

/** Runs the moves one after the other; how many are home at last, or what was not allowed. */
function run(yard: SmallYard, { moves }: ReturnType<typeof solve>): number | string {
  const places = yard.trains.map(({ from }) => from);
  for (const { mover, from, reach } of moves) {
    if (places[mover] !== from) return `train ${mover} does not stand at ${from}`;
    let at = from;
    for (const next of reach.way) {
      if (!yard.joined[at]!.includes(next)) return `${at} and ${next} are not joined`;
      if (places.some((place, other) => other !== mover && place === next))
        return `${next} is held`;
      at = next;
    }
    if (at !== reach.to) return `the way ends at ${at}`;
    places[mover] = at;
  }
  return places.filter((place, train) => place === yard.trains[train]!.home).length;
}

describe('findOrder', () => {
  it('brings as many home as the best order does, with as few moves, in small yards drawn at random', () => {
    fc.assert(
      fc.property(anyYard, (yard) => {
        const found = solve(yard);
        const best = bruteForce(yard);
        expect(found.isBest).toBe(true);
        expect(run(yard, found)).toBe(best.home);
        expect(found.moves.length).toBe(best.moves);
      }),
      { numRuns: 1500 },
    );
  });

  it('ends with an order that can be run, however little it may look at', () => {
    fc.assert(
      fc.property(anyYard, fc.integer({ min: 0, max: 60 }), (yard, effort) => {
        const before = yard.trains.filter(({ from, home }) => from === home).length;
        expect(run(yard, solve(yard, effort))).toBeGreaterThanOrEqual(before);
      }),
      { numRuns: 300 },
    );
  });

  it('frees two places in which trains stand in each other’s starting places by putting one aside', () => {
    const yard: SmallYard = {
      joined: [[3], [3], [3], [0, 1, 2]],
      trains: [
        { from: 0, home: 1 },
        { from: 1, home: 0 },
      ],
    };
    const { moves } = solve(yard);
    expect(moves.map(({ mover, reach }) => [mover, reach.to])).toHaveLength(3);
    expect(moves[0]!.mover).toBe(moves[2]!.mover);
  });
});
