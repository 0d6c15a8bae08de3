import { expect, test } from 'vitest';
import { alarmsIn, indexOf, partsOf } from './recording-index.js';
import type { PieceHead } from './recording-store.js';

/** A piece of ten seconds: `revision` is also the ten seconds at which it ends. */
const head = (run: number, part: number, piece: number, revision: number): PieceHead => ({
  session: 1,
  run,
  part,
  piece,
  from: (piece === 0 ? revision : revision - 1) * 10_000,
  until: revision * 10_000,
  fromFast: 0,
  untilFast: 0,
  fromRevision: piece === 0 ? revision : revision - 1,
  revision,
  marks: '[]',
});

test('of nothing there is nothing', () => {
  expect(indexOf([])).toEqual({ spans: [], parts: [], gaps: [], marks: [] });
});

test('parts that follow each other make one span without gaps', () => {
  const { spans, parts, gaps } = indexOf([
    head(1, 0, 0, 0),
    head(1, 0, 1, 1),
    head(1, 0, 2, 2),
    head(1, 1, 0, 2),
    head(1, 1, 1, 3),
  ]);
  expect(spans).toMatchObject([{ run: 1, from: 0, until: 30_000 }]);
  expect(parts).toEqual([
    { part: 0, run: 1, from: 0, until: 20_000 },
    { part: 1, run: 1, from: 20_000, until: 30_000 },
  ]);
  expect(gaps).toEqual([]);
});

test('after a piece that is missing, nothing of its part is shown, and there is a gap', () => {
  const heads = [head(1, 0, 0, 0), head(1, 0, 1, 1), head(1, 0, 3, 3), head(1, 1, 0, 3)];
  expect(partsOf(heads).map(({ pieces }) => pieces.length)).toEqual([2, 1]);
  expect(indexOf(heads).gaps).toEqual([{ run: 1, from: 10_000, until: 30_000 }]);
});

test('pieces without their key frame can’t be shown', () => {
  const heads = [head(1, 0, 0, 0), head(1, 1, 1, 2), head(1, 2, 0, 4)];
  expect(indexOf(heads)).toMatchObject({
    parts: [{ part: 0 }, { part: 1, from: 40_000 }],
    gaps: [{ from: 0, until: 40_000 }],
  });
});

test('each opening of a session has a span of its own, and there is no gap between them', () => {
  const { spans, gaps } = indexOf([
    head(1, 0, 0, 0),
    head(1, 0, 1, 1),
    head(2, 0, 0, 0),
    head(2, 0, 1, 1),
  ]);
  expect(spans.map(({ run }) => run)).toEqual([1, 2]);
  expect(gaps).toEqual([]);
});

test('marks carry the opening they belong to; alarms are counted', () => {
  const alarm = { kind: 'alarm', at: 5, fast: 6, text: 'Stalled', train: null } as const;
  const taken = { kind: 'in-hand', at: 7, fast: 8, text: 'Taken', train: 1 } as const;
  const marks = JSON.stringify([alarm, taken]);
  expect(indexOf([{ ...head(3, 0, 0, 0), marks }]).marks).toEqual([
    { ...alarm, run: 3 },
    { ...taken, run: 3 },
  ]);
  expect(alarmsIn([marks, '[]', marks])).toBe(2);
});
