import type { TrainView } from '@blockbell/contract/messages';
import type { Diagram } from './diagram.js';
import { lineOf, partOf, pointAt } from './line.js';
import type { Point } from './line.js';

type Path = TrainView['path'];

/** Points nearer than this are one, in the board's units. */
const TOUCHING = 0.05;

/**
 * The stretch of a held path between two path positions (mm), element by element in proportion to the drawing.
 * Several polylines where the drawing is broken (a level is left, an element has no position).
 */
export function stretchOf(
  diagram: Diagram,
  path: Path,
  from: number,
  to: number,
): readonly (readonly Point[])[] {
  const stretches: Point[][] = [];
  for (const { element, from: entry, to: exit, start, end } of path) {
    if (end <= from || start >= to || end <= start) continue;
    const line = diagram.way(element, entry, exit);
    if (!line) continue;
    const share = (at: number): number => (at - start) / (end - start);
    const part = partOf(line, share(from), share(to));
    const first = part[0];
    const last = stretches.at(-1)?.at(-1);
    if (first && last && Math.hypot(first[0] - last[0], first[1] - last[1]) <= TOUCHING)
      stretches.at(-1)?.push(...part.slice(1));
    else if (first) stretches.push([...part]);
  }
  return stretches;
}

/** The point at a path position (mm) and the direction of travel there, or null where it isn't drawn. */
export function placeOf(
  diagram: Diagram,
  path: Path,
  at: number,
): { point: Point; angle: number } | null {
  const item = path.find(({ end }) => at <= end) ?? path.at(-1);
  if (!item || item.end <= item.start) return null;
  const line = diagram.way(item.element, item.from, item.to);
  return line && pointAt(line, (at - item.start) / (item.end - item.start));
}

/** Of the space between two arrows: from the beginning of a way to its first, and what is kept free at its end. */
const FIRST_ARROW = 1 / 3;
const FREE_END = 1 / 8;

/** Places for small arrows along a drawn way, `spacing` apart and counted from its beginning: they stay where its end moves. */
export function arrowsAlong(
  points: readonly Point[],
  spacing: number,
): readonly { readonly point: Point; readonly angle: number }[] {
  const line = lineOf(points);
  const count = Math.ceil(line.length / spacing);
  return Array.from({ length: count }, (_, index) => (index + FIRST_ARROW) * spacing)
    .filter((at) => at + FREE_END * spacing <= line.length)
    .map((at) => pointAt(line, at / line.length));
}
