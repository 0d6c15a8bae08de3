import type { Point } from './line.js';

/** An upright rectangle. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export const overlap = (p: Box, q: Box): boolean =>
  p.x < q.x + q.width && q.x < p.x + p.width && p.y < q.y + q.height && q.y < p.y + p.height;

export const contains = ({ x, y, width, height }: Box, [px, py]: Point): boolean =>
  px >= x && px <= x + width && py >= y && py <= y + height;

/** Whether `inner` lies wholly in `outer`. */
export const within = (inner: Box, outer: Box): boolean =>
  inner.x >= outer.x &&
  inner.y >= outer.y &&
  inner.x + inner.width <= outer.x + outer.width &&
  inner.y + inner.height <= outer.y + outer.height;

export const grown = ({ x, y, width, height }: Box, by: number): Box => ({
  x: x - by,
  y: y - by,
  width: width + 2 * by,
  height: height + 2 * by,
});

export const centredAt = ([x, y]: Point, width: number, height: number): Box => ({
  x: x - width / 2,
  y: y - height / 2,
  width,
  height,
});

/** The smallest box around the points, or null for none. */
export function boxAround(points: readonly Point[]): Box | null {
  if (points.length === 0) return null;
  let [left, right, top, bottom] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const [x, y] of points) {
    if (x < left) left = x;
    if (x > right) right = x;
    if (y < top) top = y;
    if (y > bottom) bottom = y;
  }
  return { x: left, y: top, width: right - left, height: bottom - top };
}

/** The corners that matter for enclosing a box in another. */
export const cornersOf = ({ x, y, width, height }: Box): readonly Point[] => [
  [x, y],
  [x + width, y + height],
];
