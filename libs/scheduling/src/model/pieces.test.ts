import { expect, it } from 'vitest';
import type { Operation } from '../problem/problem.js';
import { piecesOf } from './pieces.js';

/** An operation that takes 10. */
const operation = (...successors: number[]): Operation => ({
  startLb: 0,
  startUb: Infinity,
  minDuration: 10,
  resources: [],
  successors,
});

/** Pieces of what a train holds in the operations named, as `first–last`; those with which it may begin have a star. */
function pieces(
  train: readonly Operation[],
  operations: readonly number[],
  releases: readonly number[] = operations.map(() => 0),
): string {
  const before = train.map((_, at) =>
    train.flatMap(({ successors }, u) => (successors.includes(at) ? [u] : [])),
  );
  return piecesOf(train, before, { train: 0, set: 0, operations, releases })
    .map(({ first, last, release, isEntry }) => `${first}–${last}+${release}${isEntry ? '*' : ''}`)
    .join(' ');
}

const straight = [operation(1), operation(2), operation(3), operation(4), operation()];

it('what is held straight on is one piece, let go as its last operation is', () => {
  expect(pieces(straight, [1, 2, 3], [5, 5, 7])).toBe('1–3+7*');
});

it('a longer release after an operation keeps it apart from the next, which does not last as long', () => {
  expect(pieces(straight, [1, 2], [11, 0])).toBe('1–1+11* 2–2+0');
  expect(pieces(straight, [1, 2], [10, 0])).toBe('1–2+0*');
});

it('a fork and a meeting of ways end a piece; a train may begin to hold where ways meet', () => {
  const forked = [
    operation(1),
    operation(2, 3),
    operation(4),
    operation(4),
    operation(5),
    operation(),
  ];
  expect(pieces(forked, [1, 2, 3])).toBe('1–1+0* 2–2+0 3–3+0');
  expect(pieces(forked, [2, 4])).toBe('2–2+0* 4–4+0*');
});
