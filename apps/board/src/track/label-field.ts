import { contains, overlap } from './box.js';
import type { Box } from './box.js';
import type { Point } from './line.js';

/** A place that a label may take; the cheapest free one wins, the first of equals. */
export interface Candidate {
  readonly box: Box;
  /** What this place costs before anything lies under it. */
  readonly cost: number;
}

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

  /** The cheapest free candidate, by its index; null when each lies on something blocked. Blocks its place. */
  place(candidates: readonly Candidate[]): number | null {
    let best: number | null = null;
    let least = Infinity;
    candidates.forEach(({ box, cost }, index) => {
      // What lies under a label only adds to its cost.
      if (cost >= least || !this.isFree(box)) return;
      const total = cost + this.costOf(box);
      if (total >= least) return;
      best = index;
      least = total;
    });
    const chosen = best === null ? undefined : candidates[best];
    if (chosen) this.block(chosen.box);
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
