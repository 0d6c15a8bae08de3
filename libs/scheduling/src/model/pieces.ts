import type { Train } from '../problem/problem.js';
import type { Holding } from './orders.js';

/** Operations of a holding that follow one another, with no fork and no meeting of ways between; numbers of the train. */
export interface Piece {
  readonly first: number;
  readonly last: number;
  /** Release time after the last. */
  readonly release: number;
  /** Whether a train may begin to hold with it. */
  readonly isEntry: boolean;
}

/**
 * The pieces of a holding, in the order of their first operations. What is held through a piece is taken with its first operation and let
 * go at the end of its last, so that nothing depends on those between.
 *
 * @param before by operation of the train, those it may follow
 */
export function piecesOf(
  train: Train,
  before: readonly (readonly number[])[],
  holding: Holding,
): readonly Piece[] {
  const { operations, releases } = holding;
  const pieces: { first: number; last: number; release: number; isEntry: boolean }[] = [];
  const pieceOf: number[] = [];
  operations.forEach((operation, at) => {
    const [only, ...others] = before[operation]!;
    const previous = only === undefined || others.length > 0 ? -1 : operations.indexOf(only);
    const release = releases[at]!;
    const goesOn =
      previous >= 0 &&
      train[only!]!.successors.length === 1 &&
      isHeldOn(train, holding, operation, releases[previous]!);
    if (goesOn) {
      const piece = pieceOf[previous]!;
      pieceOf.push(piece);
      Object.assign(pieces[piece]!, { last: operation, release });
    } else {
      pieceOf.push(pieces.length);
      pieces.push({ first: operation, last: operation, release, isEntry: previous < 0 });
    }
  });
  return pieces;
}

/** Whether what is held in an operation, and for `release` after it, is held on through `next`, and no shorter. */
export function isHeldOn(
  train: Train,
  { operations, releases }: Holding,
  next: number,
  release: number,
): boolean {
  const at = operations.indexOf(next);
  return at >= 0 && train[next]!.minDuration + releases[at]! >= release;
}
