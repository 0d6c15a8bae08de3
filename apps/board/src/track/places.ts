import type { Box } from './box.js';

/** How much larger than two places together one may be that holds both: painting costs by the place as well as by its size. */
const WASTE = 1.3;

const areaOf = ({ width, height }: Box): number => width * height;

function around(p: Box, q: Box): Box {
  const [x, y] = [Math.min(p.x, q.x), Math.min(p.y, q.y)];
  return {
    x,
    y,
    width: Math.max(p.x + p.width, q.x + q.width) - x,
    height: Math.max(p.y + p.height, q.y + q.height) - y,
  };
}

/** Fewer boxes that cover all of these: such as lie on one another or close by become one. */
export function merged(boxes: readonly Box[]): readonly Box[] {
  const kept: Box[] = [];
  for (const box of boxes) {
    let grown = box;
    for (let index = 0; index < kept.length; index += 1) {
      const other = kept[index];
      if (!other) continue;
      const both = around(grown, other);
      if (areaOf(both) > WASTE * (areaOf(grown) + areaOf(other))) continue;
      grown = both;
      kept.splice(index, 1);
      // What is larger now may reach those that were left behind.
      index = -1;
    }
    kept.push(grown);
  }
  return kept;
}

const COLUMNS = 64;
const ROWS = 32;

/** Finds what lies in a part of the drawing without looking at everything. */
export class PlaceIndex {
  readonly #cells = new Map<number, number[]>();
  readonly #extent: Box;

  /** `boxes`: of all things, by their index. */
  constructor(private readonly boxes: readonly Box[]) {
    this.#extent = boxes.reduce(around, boxes[0] ?? { x: 0, y: 0, width: 0, height: 0 });
    boxes.forEach((box, index) => {
      for (const cell of this.#cellsOf(box)) {
        const found = this.#cells.get(cell);
        if (found) found.push(index);
        else this.#cells.set(cell, [index]);
      }
    });
  }

  /** Indexes of those that touch the area, in ascending order. */
  within(area: Box): readonly number[] {
    const found = new Set<number>();
    for (const cell of this.#cellsOf(area))
      for (const index of this.#cells.get(cell) ?? []) {
        const box = this.boxes[index];
        if (box && touch(box, area)) found.add(index);
      }
    return [...found].toSorted((p, q) => p - q);
  }

  #cellsOf({ x, y, width, height }: Box): readonly number[] {
    const column = (at: number): number => cellAt(at - this.#extent.x, this.#extent.width, COLUMNS);
    const row = (at: number): number => cellAt(at - this.#extent.y, this.#extent.height, ROWS);
    const cells: number[] = [];
    for (let i = column(x); i <= column(x + width); i += 1)
      for (let j = row(y); j <= row(y + height); j += 1) cells.push(i * ROWS + j);
    return cells;
  }
}

const cellAt = (along: number, length: number, count: number): number =>
  length === 0 ? 0 : Math.min(count - 1, Math.max(0, Math.floor((along / length) * count)));

/** Also of boxes without an area. */
const touch = (p: Box, q: Box): boolean =>
  p.x <= q.x + q.width && q.x <= p.x + p.width && p.y <= q.y + q.height && q.y <= p.y + p.height;
