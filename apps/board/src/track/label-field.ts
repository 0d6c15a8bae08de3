import { overlap } from './box.js';
import type { Box } from './box.js';
import type { Point } from './line.js';

/** A place that a label may take; the cheapest free one wins, the first of equals. */
export interface Candidate {
  readonly box: Box;
  /** What this place costs before anything lies under it. */
  readonly cost: number;
}

/** Where no label may stand. */
export const NOWHERE: Candidate = { box: { x: 0, y: 0, width: 0, height: 0 }, cost: Infinity };

const CELL = 40;

/**
 * What the labels must keep clear of, in screen pixels. A label never lies on a blocked box. Points (of track
 * lines, bands, lamps) may be covered, at a cost each.
 */
export class LabelField {
  readonly #boxes = new Map<number, Box[]>();
  /** By cell: x, y and cost of each point, one after the other. */
  readonly #points = new Map<number, number[]>();

  readonly #below: LabelField | null;
  readonly #weight: number;

  /** `below`: a field that this one lies over; its costs count `weight` times. */
  constructor(below: LabelField | null = null, weight = 1) {
    this.#below = below;
    this.#weight = weight;
  }

  block(box: Box): void {
    const { left, right, top, bottom } = cellsOf(box);
    for (let column = left; column <= right; column += 1)
      for (let row = top; row <= bottom; row += 1)
        listAt(this.#boxes, cellKey(column, row)).push(box);
  }

  soften([x, y]: Point, cost: number): void {
    listAt(this.#points, cellKey(Math.floor(x / CELL), Math.floor(y / CELL))).push(x, y, cost);
  }

  isFree(box: Box): boolean {
    const { left, right, top, bottom } = cellsOf(box);
    for (let column = left; column <= right; column += 1)
      for (let row = top; row <= bottom; row += 1) {
        const blocked = this.#boxes.get(cellKey(column, row));
        if (blocked === undefined) continue;
        for (const other of blocked) if (overlap(other, box)) return false;
      }
    return this.#below?.isFree(box) ?? true;
  }

  /** What lies under the box. */
  costOf(box: Box): number {
    let cost = (this.#below?.costOf(box) ?? 0) * this.#weight;
    const { x, y, width, height } = box;
    const { left, right, top, bottom } = cellsOf(box);
    for (let column = left; column <= right; column += 1)
      for (let row = top; row <= bottom; row += 1) {
        const points = this.#points.get(cellKey(column, row));
        if (points === undefined) continue;
        for (let at = 0; at < points.length; at += 3) {
          const px = points[at]!;
          const py = points[at + 1]!;
          if (px >= x && px <= x + width && py >= y && py <= y + height) cost += points[at + 2]!;
        }
      }
    return cost;
  }

  /**
   * The cheapest free one of so many candidates, by its index, the first of equals; null when each lies on something blocked or
   * costs without end. `own`: what of the cost under a box is no burden.
   */
  cheapest(
    count: number,
    candidateAt: (index: number) => Candidate,
    own: (box: Box) => number = () => 0,
  ): number | null {
    let best: number | null = null;
    let least = Infinity;
    for (let index = 0; index < count; index += 1) {
      const { box, cost } = candidateAt(index);
      // What lies under a label only adds to its cost.
      if (cost >= least || !this.isFree(box)) continue;
      const total = cost + this.costOf(box) - own(box);
      if (total >= least) continue;
      best = index;
      least = total;
    }
    return best;
  }
}

/** One number for a cell; cells far outside any screen may share one, which only costs time. */
const cellKey = (column: number, row: number): number => column * 65_536 + row;

/** The first and last column and row of the cells that a box touches. */
const cellsOf = ({ x, y, width, height }: Box) => ({
  left: Math.floor(x / CELL),
  right: Math.floor((x + width) / CELL),
  top: Math.floor(y / CELL),
  bottom: Math.floor((y + height) / CELL),
});

function listAt<T>(map: Map<number, T[]>, key: number): T[] {
  const found = map.get(key);
  if (found) return found;
  const made: T[] = [];
  map.set(key, made);
  return made;
}
