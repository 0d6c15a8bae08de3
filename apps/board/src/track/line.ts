export type Point = readonly [x: number, y: number];

/** A polyline with its length measured, so that a fraction of the way finds its place. */
export interface Line {
  readonly points: readonly Point[];
  /** Distance from the start at each point. */
  readonly along: readonly number[];
  readonly length: number;
}

const gap = (p: Point, q: Point): number => Math.hypot(q[0] - p[0], q[1] - p[1]);

export function lineOf(points: readonly Point[]): Line {
  const along: number[] = [];
  let length = 0;
  points.forEach((point, index) => {
    const before = points[index - 1];
    if (before) length += gap(before, point);
    along.push(length);
  });
  return { points, along, length };
}

export const reversed = (line: Line): Line => lineOf(line.points.toReversed());

const mix = (p: Point, q: Point, share: number): Point => [
  p[0] + (q[0] - p[0]) * share,
  p[1] + (q[1] - p[1]) * share,
];

/** Index of the stretch between two points that holds the distance `at`. */
function stretchAt(line: Line, at: number): number {
  let index = 0;
  while (index < line.points.length - 2 && (line.along[index + 1] ?? 0) <= at) index++;
  return index;
}

/** The point a fraction (0 to 1) of the way along, and the direction of travel there in radians. */
export function pointAt(line: Line, fraction: number): { point: Point; angle: number } {
  const at = Math.min(1, Math.max(0, fraction)) * line.length;
  const index = stretchAt(line, at);
  const from = line.points[index] ?? [0, 0];
  const to = line.points[index + 1] ?? from;
  const start = line.along[index] ?? 0;
  const span = gap(from, to);
  return {
    point: mix(from, to, span === 0 ? 0 : (at - start) / span),
    angle: Math.atan2(to[1] - from[1], to[0] - from[0]),
  };
}

/** The ends of so many equally long parts, from the start on: one more than there are parts; of none, the start. */
export function pointsAlong(line: Line, parts: number): readonly Point[] {
  const points: Point[] = [];
  let index = 0;
  for (let part = 0; part <= parts; part += 1) {
    const at = parts === 0 ? 0 : (part / parts) * line.length;
    while (index < line.points.length - 2 && (line.along[index + 1] ?? 0) <= at) index += 1;
    const from = line.points[index] ?? [0, 0];
    const start = line.along[index] ?? 0;
    const span = (line.along[index + 1] ?? start) - start;
    points.push(mix(from, line.points[index + 1] ?? from, span === 0 ? 0 : (at - start) / span));
  }
  return points;
}

/** The points of the part between two fractions (0 to 1) of the way. */
export function partOf(line: Line, from: number, to: number): readonly Point[] {
  const low = Math.min(1, Math.max(0, from));
  const high = Math.min(1, Math.max(0, to));
  if (high <= low) return [];
  const inner = line.points.filter((_, index) => {
    const at = line.along[index] ?? 0;
    return at > low * line.length && at < high * line.length;
  });
  return [pointAt(line, low).point, ...inner, pointAt(line, high).point];
}

const text = (value: number): string => String(Math.round(value * 1000) / 1000);

/** SVG path data through the points. */
export const pathData = (points: readonly Point[]): string =>
  points.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${text(x)} ${text(y)}`).join('');
