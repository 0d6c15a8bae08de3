import {
  mmPerS,
  ms,
  type Millimetres,
  type MillimetresPerSecond,
  type Milliseconds,
} from '../units.js';
import type { Performance } from './motion.js';

/** A stretch under one speed limit. Where a limit rises, the stretch ends where the tail leaves the lower one. */
export interface Stretch {
  readonly length: Millimetres;
  readonly limit: MillimetresPerSecond;
}

/**
 * Shortest running time over stretches one after the other, entered at speed `from` and left at `to`: accelerating and
 * braking evenly, never above a limit. Rounded up to a ms. A speed at either end that the train can't have there counts
 * as the nearest it can.
 */
export function runningTime(
  stretches: readonly Stretch[],
  performance: Performance,
  from: MillimetresPerSecond = mmPerS(0),
  to: MillimetresPerSecond = mmPerS(0),
): Milliseconds {
  const squares = boundarySquares(stretches, performance, from, to);
  let seconds = 0;
  stretches.forEach((stretch, i) => {
    seconds += timeOver(stretch, performance, squares[i] ?? 0, squares[i + 1] ?? 0);
  });
  return ms(Math.ceil(seconds * 1000));
}

/** Squares of the greatest speeds at which each stretch is entered and the last one left. */
function boundarySquares(
  stretches: readonly Stretch[],
  { acceleration, braking }: Performance,
  from: MillimetresPerSecond,
  to: MillimetresPerSecond,
): number[] {
  const limit = (i: number) => stretches[i]?.limit ?? Infinity;
  const squares: number[] = [];
  let behind = to * to;
  for (let i = stretches.length; i >= 0; i -= 1) {
    const lower = Math.min(limit(i - 1), limit(i));
    behind = Math.min(lower * lower, behind, i === 0 ? from * from : Infinity);
    squares[i] = behind;
    behind += 2 * braking * (stretches[i - 1]?.length ?? 0);
  }
  stretches.forEach(({ length }, i) => {
    const reached = (squares[i] ?? 0) + 2 * acceleration * length;
    squares[i + 1] = Math.min(squares[i + 1] ?? 0, reached);
  });
  return squares;
}

/** Seconds over one stretch whose ends are passed with these squares of speed. */
function timeOver(
  { length, limit }: Stretch,
  { acceleration, braking }: Performance,
  entry: number,
  exit: number,
): number {
  const free =
    (2 * acceleration * braking * length + braking * entry + acceleration * exit) /
    (acceleration + braking);
  const peak = Math.sqrt(Math.min(limit * limit, free));
  if (peak === 0) return 0;
  const accelerating = (peak * peak - entry) / (2 * acceleration);
  const slowing = (peak * peak - exit) / (2 * braking);
  const steady = Math.max(0, length - accelerating - slowing);
  return (
    (peak - Math.sqrt(entry)) / acceleration + (peak - Math.sqrt(exit)) / braking + steady / peak
  );
}
