import type { TrainView } from '@blockbell/contract/messages';
import { boxAround } from './box.js';
import type { Box } from './box.js';
import type { Diagram } from './diagram.js';
import { lineOf, partOf, pointAt } from './line.js';
import type { Line, Point } from './line.js';

type Path = TrainView['path'];

/** Points nearer than this are one, in the board's units. */
const TOUCHING = 0.05;

const drawn = new WeakMap<
  Path,
  { readonly diagram: Diagram; readonly lines: readonly (Line | null)[] }
>();

/** The line of each element of a path, found once for as long as the path is held. */
function linesOf(diagram: Diagram, path: Path): readonly (Line | null)[] {
  const known = drawn.get(path);
  if (known?.diagram === diagram) return known.lines;
  const lines = path.map(({ element, from, to }) => diagram.way(element, from, to));
  drawn.set(path, { diagram, lines });
  return lines;
}

const boxes = new WeakMap<Path, { readonly diagram: Diagram; readonly box: Box | null }>();

/** The box around all of a path, found once for as long as the path is held; null where none of it is drawn. */
export function boxOfPath(diagram: Diagram, path: Path): Box | null {
  const known = boxes.get(path);
  if (known?.diagram === diagram) return known.box;
  const box = boxAround(linesOf(diagram, path).flatMap((line) => line?.points ?? []));
  boxes.set(path, { diagram, box });
  return box;
}

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
  const lines = linesOf(diagram, path);
  for (const [index, { start, end }] of path.entries()) {
    if (end <= from || start >= to || end <= start) continue;
    const line = lines[index];
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
  const found = path.findIndex(({ end }) => at <= end);
  const index = found < 0 ? path.length - 1 : found;
  const item = path[index];
  if (!item || item.end <= item.start) return null;
  const line = linesOf(diagram, path)[index];
  return line ? pointAt(line, (at - item.start) / (item.end - item.start)) : null;
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
