type Point = readonly [number, number];

/** A straight part of an element's track. */
export interface Segment {
  readonly from: Point;
  readonly to: Point;
  readonly element: number;
}

/** Nearer than this, in drawing units, two lines touch. */
const TOUCH = 1e-6;

const turn = ([px, py]: Point, [qx, qy]: Point, [rx, ry]: Point): number =>
  (qx - px) * (ry - py) - (qy - py) * (rx - px);

/** How two segments lie to each other; sharing an end is nothing. */
export function meet(one: Segment, other: Segment): 'apart' | 'crossing' | 'covering' {
  const { from: p, to: q } = one;
  const { from: r, to: s } = other;
  if (
    Math.max(p[0], q[0]) < Math.min(r[0], s[0]) - TOUCH ||
    Math.max(r[0], s[0]) < Math.min(p[0], q[0]) - TOUCH ||
    Math.max(p[1], q[1]) < Math.min(r[1], s[1]) - TOUCH ||
    Math.max(r[1], s[1]) < Math.min(p[1], q[1]) - TOUCH
  )
    return 'apart';
  const [a, b, c, d] = [turn(p, q, r), turn(p, q, s), turn(r, s, p), turn(r, s, q)];
  if ([a, b].every((side) => Math.abs(side) <= TOUCH))
    return shared(one, other) > TOUCH ? 'covering' : 'apart';
  if (same(p, r) || same(p, s) || same(q, r) || same(q, s)) return 'apart';
  return a * b <= TOUCH && c * d <= TOUCH ? 'crossing' : 'apart';
}

const same = ([px, py]: Point, [qx, qy]: Point): boolean =>
  Math.abs(px - qx) <= TOUCH && Math.abs(py - qy) <= TOUCH;

/** How much two segments on one line have in common, along its longer direction. */
function shared({ from: p, to: q }: Segment, { from: r, to: s }: Segment): number {
  const axis = Math.abs(q[0] - p[0]) >= Math.abs(q[1] - p[1]) ? 0 : 1;
  return (
    Math.min(Math.max(p[axis], q[axis]), Math.max(r[axis], s[axis])) -
    Math.max(Math.min(p[axis], q[axis]), Math.min(r[axis], s[axis]))
  );
}

/** How many pairs of the two lists meet; covering counts three times. */
export const meeting = (some: readonly Segment[], others: readonly Segment[]): number =>
  some.reduce(
    (sum, one) =>
      others.reduce((own, other) => {
        const how = meet(one, other);
        return own + (how === 'crossing' ? 1 : how === 'covering' ? 3 : 0);
      }, sum),
    0,
  );
