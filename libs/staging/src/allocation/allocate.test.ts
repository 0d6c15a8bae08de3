import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allocate } from './allocate.js';
import { burialsOf } from './burials.js';
import { mostTaken } from './room.js';
import type { Berth, Stay, TrackEnd, Yard } from './yard.js';

const ENDLESS = 1_000_000;

/** Tracks in which everybody comes in by `a` and leaves by `out`, with room for all. */
function plainYard(
  spans: readonly (readonly [number, number])[],
  tracks: number,
  out: TrackEnd,
): Yard {
  const berths = Array.from({ length: tracks }, (_, track): Berth => ({
    track,
    in: 'a',
    out,
    needs: 1,
    cost: 0,
  }));
  return {
    tracks: berths.map(({ track }) => ({ id: `${track + 1}`, room: ENDLESS })),
    stays: spans.map(([arrive, depart], index) => ({ id: `${index}`, arrive, depart, berths })),
  };
}

/** The fewest tracks that bury nobody. */
function fewestTracks(spans: readonly (readonly [number, number])[], out: TrackEnd): number {
  for (let tracks = 1; ; tracks++) {
    const { burials, unplaced, proven } = allocate(plainYard(spans, tracks, out));
    expect(proven).toBe(true);
    expect(unplaced).toEqual([]);
    if (burials.length === 0) return tracks;
  }
}

/** All arrive, one after the other, before the first leaves; `ranks[k]`: the how-manieth to leave is the k-th to arrive. */
const inThenOut = (ranks: readonly number[]): [number, number][] =>
  ranks.map((rank, place) => [place, 1000 + rank]);

/** Length of the longest run of numbers, not side by side, that rises. */
function longestRising(numbers: readonly number[]): number {
  const ending = numbers.map(() => 1);
  numbers.forEach((number, at) => {
    for (let before = 0; before < at; before++) {
      if (numbers[before]! < number) ending[at] = Math.max(ending[at]!, ending[before]! + 1);
    }
  });
  return Math.max(0, ...ending);
}

describe('stacking', () => {
  // Sorting with stacks and queues: S. Even, A. Itai, Queues, stacks and graphs (1971), from memory; the sequences and
  // their numbers were worked out by hand from the theorem.
  it.each([
    [[3, 1, 4, 2, 5], 3, 2],
    [[2, 4, 1, 3], 2, 2],
  ])('departures %j need %i dead-end or %i through tracks', (ranks, lifo, fifo) => {
    expect(fewestTracks(inThenOut(ranks), 'a')).toBe(lifo);
    expect(fewestTracks(inThenOut(ranks), 'b')).toBe(fifo);
  });

  it.each([
    [
      [
        [1, 10],
        [2, 9],
        [3, 8],
      ] as [number, number][],
      1,
      3,
    ],
    [
      [
        [1, 4],
        [2, 5],
        [3, 6],
      ] as [number, number][],
      3,
      1,
    ],
  ])('stays %j need %i dead-end or %i through tracks', (spans, lifo, fifo) => {
    expect(fewestTracks(spans, 'a')).toBe(lifo);
    expect(fewestTracks(spans, 'b')).toBe(fifo);
  });

  it('needs as many tracks as the longest rising or falling run, for any order', () => {
    const orders = fc.shuffledSubarray([1, 2, 3, 4, 5, 6, 7], { minLength: 7 });
    fc.assert(
      fc.property(orders, (ranks) => {
        expect(fewestTracks(inThenOut(ranks), 'a')).toBe(longestRising(ranks));
        expect(fewestTracks(inThenOut(ranks), 'b')).toBe(longestRising(ranks.map((it) => -it)));
      }),
      { numRuns: 200 },
    );
  });
});

const end = fc.constantFrom<TrackEnd>('a', 'b');

/** Yards of up to three tracks and six stays, of all kinds mixed. */
const smallYard: fc.Arbitrary<Yard> = fc
  .array(fc.integer({ min: 1, max: 4 }), { minLength: 1, maxLength: 3 })
  .chain((rooms) => {
    const berth = fc.record({
      in: end,
      out: end,
      needs: fc.integer({ min: 1, max: 3 }),
      cost: fc.integer({ min: 0, max: 2 }),
      may: fc.boolean(),
    });
    const stay = fc.record({
      arrive: fc.integer({ min: 0, max: 9 }),
      lasts: fc.oneof(fc.integer({ min: 1, max: 8 }), fc.constant(Infinity)),
      berths: fc.array(berth, { minLength: rooms.length, maxLength: rooms.length }),
    });
    return fc.array(stay, { minLength: 1, maxLength: 5 }).map((stays) => ({
      tracks: rooms.map((room, index) => ({ id: `${index}`, room })),
      stays: stays.map(({ arrive, lasts, berths }, index): Stay => ({
        id: `${index}`,
        arrive,
        depart: arrive + lasts,
        berths: berths.flatMap(({ may, ...rest }, track) => (may ? [{ track, ...rest }] : [])),
      })),
    }));
  });

/** Whether no track ever holds more than it has room for. */
function hasRoom({ tracks, stays }: Yard, berths: readonly (number | null)[]): boolean {
  const placed = stays.flatMap((stay, index) => {
    const berth = stay.berths[berths[index] ?? -1];
    return berth === undefined ? [] : [{ stay, ...berth }];
  });
  return placed.every((own) => {
    const others = placed.filter((it) => it !== own && it.track === own.track);
    return mostTaken(others, own) <= tracks[own.track]!.room;
  });
}

/** The least harm of all allocations there are: left out, then buried. */
function leastHarm(yard: Yard): readonly [number, number] {
  let least: readonly [number, number] = [Infinity, Infinity];
  const berths: (number | null)[] = [];
  const visit = (): void => {
    const stay = yard.stays[berths.length];
    if (stay === undefined) {
      if (!hasRoom(yard, berths)) return;
      const out = berths.filter((it) => it === null).length;
      const buried = burialsOf(yard, berths).length;
      if (out < least[0] || (out === least[0] && buried < least[1])) least = [out, buried];
      return;
    }
    for (const choice of [...stay.berths.keys(), null]) {
      berths.push(choice);
      visit();
      berths.pop();
    }
  };
  visit();
  return least;
}

describe('allocate', () => {
  it('harms no more than the best of all allocations, in ten thousand small yards', () => {
    fc.assert(
      fc.property(smallYard, (yard) => {
        const { berths, unplaced, burials, proven } = allocate(yard);
        expect(proven).toBe(true);
        expect(hasRoom(yard, berths)).toBe(true);
        expect([unplaced.length, burials.length]).toEqual(leastHarm(yard));
      }),
      { numRuns: 10_000 },
    );
  }, 120_000);

  it('buries nobody that walking through the yard, train by train, would find buried', () => {
    fc.assert(
      fc.property(smallYard, (yard) => {
        const { berths, burials } = allocate(yard);
        const buried = new Set(burials.map(({ stay }) => stay));
        expect([...walkThrough(yard, berths)].filter((stay) => !buried.has(stay))).toEqual([]);
      }),
    );
  });
});

/** Moves trains in and out of the tracks as the clock goes on; those that find another in front of them. */
function walkThrough({ tracks, stays }: Yard, berths: readonly (number | null)[]): Set<number> {
  const rows = tracks.map((): number[] => []);
  const stopped = new Set<number>();
  const berthOf = (stay: number): Berth | undefined => stays[stay]!.berths[berths[stay] ?? -1];
  const times = [...new Set(stays.flatMap(({ arrive, depart }) => [arrive, depart]))];
  for (const time of times.sort((a, b) => a - b)) {
    for (const row of rows) {
      const leaving = row.filter((stay) => stays[stay]!.depart === time);
      const staying = row.filter((stay) => stays[stay]!.depart !== time);
      for (const stay of leaving) {
        const front =
          berthOf(stay)!.out === 'a'
            ? row.slice(0, row.indexOf(stay))
            : row.slice(row.indexOf(stay) + 1);
        if (front.some((it) => staying.includes(it))) stopped.add(stay);
      }
      row.splice(0, row.length, ...staying);
    }
    stays.forEach(({ arrive }, stay) => {
      const berth = berthOf(stay);
      if (arrive !== time || berth === undefined) return;
      const row = rows[berth.track]!;
      if (berth.in === 'a') row.unshift(stay);
      else row.push(stay);
    });
  }
  return stopped;
}
