import type { Piece } from './chains.js';
import type { DrawnPiece, Point } from './draw-piece.js';
import type { Strip } from './fold.js';
import { foldPiece } from './fold.js';

/** Room between strips below one another, beside one another, and between levels, in drawing units. */
const BELOW = 84;
const ASIDE = 90;
const BETWEEN_LEVELS = 190;
/** How many times as wide as high a drawing is to be, and the least width that is worth folding. */
const SHAPE = 2.1;
const LEAST_PAGE = 900;

/** A piece with its drawing and the level on which it lies. */
export interface LaidPiece {
  readonly piece: Piece;
  readonly drawn: DrawnPiece;
  readonly level: number;
}

/**
 * Moves pieces to their places on one page: levels below one another in the order of the file; on each, pieces beside one another while
 * there is room; pieces too long for the page folded as text is. `top`: where the page begins.
 */
export function setPage(laid: readonly LaidPiece[], top: number): DrawnPiece {
  const sizes = laid.map(({ piece, drawn }) => foldPiece(piece, drawn, Infinity));
  const area = sizes
    .flat()
    .reduce(
      (sum, { left, right, top, bottom }) => sum + (right - left + ASIDE) * (bottom - top + BELOW),
      0,
    );
  const page = Math.max(LEAST_PAGE, Math.sqrt(area * SHAPE));
  const result: DrawnPiece = { at: new Map(), via: new Map() };
  const levels = [...new Set(laid.map(({ level }) => level))].toSorted((p, q) => p - q);
  let y = top;
  for (const level of levels) {
    let x = 0;
    let height = 0;
    for (const { piece, drawn } of laid.filter((it) => it.level === level)) {
      for (const strip of foldPiece(piece, drawn, page)) {
        const width = strip.right - strip.left;
        if (x > 0 && x + width > page) {
          y += height + BELOW;
          [x, height] = [0, 0];
        }
        move(piece, drawn, strip, [x - strip.left, y - strip.top], result);
        x += width + ASIDE;
        height = Math.max(height, strip.bottom - strip.top);
      }
    }
    y += height + BETWEEN_LEVELS;
  }
  return result;
}

function move(
  piece: Piece,
  drawn: DrawnPiece,
  { members }: Strip,
  [dx, dy]: Point,
  into: DrawnPiece,
): void {
  const moved = ([x, y]: Point): Point => [x + dx, y + dy];
  for (const element of members) {
    for (const port of piece.net.portsOf[element]?.values() ?? []) {
      const point = drawn.at.get(port);
      if (point) into.at.set(port, moved(point));
    }
    const bends = drawn.via.get(element);
    if (bends) into.via.set(element, bends.map(moved));
  }
}
