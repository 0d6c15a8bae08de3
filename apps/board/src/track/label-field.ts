import { contains, overlap } from './box.js';
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
  readonly #points = new Map<number, { readonly point: Point; readonly cost: number }[]>();

  readonly #below: LabelField | null;
  readonly #weight: number;

  /** `below`: a field that this one lies over; its costs count `weight` times. */
  constructor(below: LabelField | null = null, weight = 1) {
    this.#below = below;
    this.#weight = weight;
  }

  block(box: Box): void {
    for (const key of cellsOf(box)) listAt(this.#boxes, key).push(box);
  }

  soften(point: Point, cost: number): void {
    listAt(this.#points, cellKey(Math.floor(point[0] / CELL), Math.floor(point[1] / CELL))).push({
      point,
      cost,
    });
  }

  isFree(box: Box): boolean {
    for (const key of cellsOf(box))
      if (this.#boxes.get(key)?.some((blocked) => overlap(blocked, box))) return false;
    return this.#below?.isFree(box) ?? true;
  }

  /** What lies under the box. */
  costOf(box: Box): number {
    let cost = (this.#below?.costOf(box) ?? 0) * this.#weight;
    for (const key of cellsOf(box))
      for (const { point, cost: one } of this.#points.get(key) ?? [])
        if (contains(box, point)) cost += one;
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

function cellsOf({ x, y, width, height }: Box): readonly number[] {
  const keys: number[] = [];
  for (let column = Math.floor(x / CELL); column <= Math.floor((x + width) / CELL); column++)
    for (let row = Math.floor(y / CELL); row <= Math.floor((y + height) / CELL); row++)
      keys.push(cellKey(column, row));
  return keys;
}

function listAt<T>(map: Map<number, T[]>, key: number): T[] {
  const found = map.get(key);
  if (found) return found;
  const made: T[] = [];
  map.set(key, made);
  return made;
}
