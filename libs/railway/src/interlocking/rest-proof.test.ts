import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { provenTailAtRest, REST_TOLERANCE, type Consist, type Stretch } from './rest-proof.js';

/** A path from lengths, each with its section. */
function pathOf(parts: readonly (readonly [section: number, length: number])[]): Stretch[] {
  let at = 0;
  return parts.map(([section, length]) => {
    const start = at;
    at += length;
    return { section, start, end: at };
  });
}

const train = (length: number, unseenAhead = 0, unseenBehind = 0): Consist => ({
  length,
  unseenAhead,
  unseenBehind,
});

describe('proven tail of a resting train', () => {
  const path = pathOf([
    [0, 1000],
    [1, 240],
    [2, 150],
    [3, 900],
    [4, 150],
  ]);

  it('is where sections behind it have gone free', () => {
    // Head at 2240: the tail of 600 mm lies at 1640; sections 0, 1 and 2 end at 1390.
    expect(provenTailAtRest(path, 2240, train(600))).toBe(1390);
    expect(provenTailAtRest(path, 2240, train(600, 0, 90))).toBe(1300);
  });

  it('or a train length behind the last edge its head passed', () => {
    // Head at 2420, the last edge at 2290: 700 mm behind it 1590; by sections only 1390.
    expect(provenTailAtRest(path, 2420, train(700))).toBe(1590);
    expect(provenTailAtRest(path, 2480, train(700, 60))).toBe(1650);
  });

  it('counts every edge before the mark, to which a train draws up, and none beyond', () => {
    expect(provenTailAtRest(path, 2290, train(700))).toBe(1590);
    expect(provenTailAtRest(path, 2289, train(700))).toBe(1390);
  });

  it('counts no boundary that the tail of a train standing a little short has not passed', () => {
    const head = 1390 + 700 + REST_TOLERANCE;
    expect(provenTailAtRest(path, head, train(700))).toBe(1390);
    expect(provenTailAtRest(path, head - 1, train(700))).toBe(1240);
  });

  it('is nowhere while no section behind is free', () => {
    expect(provenTailAtRest(pathOf([[0, 1000]]), 900, train(300))).toBe(-300);
    expect(provenTailAtRest(pathOf([[-1, 1000]]), 900, train(300))).toBe(-Infinity);
  });

  it('knows no boundary inside a section that lies on both sides of it', () => {
    const shared = pathOf([
      [0, 1000],
      [1, 240],
      [1, 900],
    ]);
    expect(provenTailAtRest(shared, 2100, train(300))).toBe(1000);
  });

  const parts = fc.array(
    fc.tuple(fc.constantFrom(-1, 0, 1, 2, 3, 4, 5, 6), fc.integer({ min: 50, max: 800 })),
    { minLength: 1, maxLength: 7 },
  );

  it('is never further than what detectors have really shown by then', () => {
    fc.assert(
      fc.property(
        parts,
        fc.integer({ min: 100, max: 1500 }),
        fc.integer({ min: 0, max: 80 }),
        fc.integer({ min: 0, max: 80 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.integer({ min: 0, max: REST_TOLERANCE }),
        (list, length, unseenAhead, unseenBehind, where, short) => {
          const path = pathOf(list);
          const mark = Math.floor(path.at(-1)!.end * where);
          const consist = train(length, unseenAhead, unseenBehind);
          const proven = provenTailAtRest(path, mark, consist);
          const head = drawnUp(path, mark, mark - short, consist);
          expect(proven).toBeLessThanOrEqual(head - length);
          expect(proven).toBeLessThanOrEqual(shown(path, head, consist));
        },
      ),
      { numRuns: 400 },
    );
  });
});

/** Where a train that came to rest at `head` stands once it has drawn up to every edge before its mark. */
function drawnUp(
  path: readonly Stretch[],
  mark: number,
  head: number,
  { unseenAhead }: Consist,
): number {
  const edges = path
    .filter(
      ({ section }, at) => section >= 0 && path.findIndex((it) => it.section === section) === at,
    )
    .map(({ start }) => start + unseenAhead);
  return Math.max(head, ...edges.filter((edge) => edge <= mark));
}

/**
 * Reference: what the detectors prove when the head has really come to `head`, told from where the seen part of the
 * train lies. Edges: each section's first stretch that the seen head has entered. Sequence: sections from the rear that
 * hold no seen part of the train, up to the last one that does.
 */
function shown(path: readonly Stretch[], head: number, consist: Consist): number {
  const seenHead = head - consist.unseenAhead;
  const seenTail = head - consist.length + consist.unseenBehind;
  const occupied = new Set(
    path
      .filter((it) => it.section >= 0 && it.start < seenHead && it.end > seenTail)
      .map((it) => it.section),
  );
  const entered = path.filter(
    (it, i) =>
      it.section >= 0 &&
      it.start <= seenHead &&
      path.findIndex(({ section }) => section === it.section) === i,
  );
  const byEdge = Math.max(
    -Infinity,
    ...entered.map((it) => it.start + consist.unseenAhead - consist.length),
  );
  const last = path.findLast((it) => it.start <= seenHead && occupied.has(it.section));
  if (last === undefined) return byEdge;
  const behind = path.filter(
    (it) => it.section >= 0 && it.end <= Math.min(last.start, head - consist.length),
  );
  const firstOccupied = behind.findIndex((it) => occupied.has(it.section));
  const free = firstOccupied < 0 ? behind : behind.slice(0, firstOccupied);
  const boundary = free.at(-1)?.end ?? -Infinity;
  return Math.max(byEdge, boundary - consist.unseenBehind);
}
