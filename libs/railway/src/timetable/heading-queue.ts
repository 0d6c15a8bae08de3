import type { Heading } from '../layout/layout.js';

/** A binary heap of headings, nearest first by a table of distances; of equals the lower heading first. */
export class HeadingQueue {
  readonly #distances: Float64Array;
  readonly #heap: { readonly heading: Heading; readonly distance: number }[] = [];

  constructor(distances: Float64Array) {
    this.#distances = distances;
  }

  /** Adds a heading with its present distance; an older, greater one is passed over later. */
  push(heading: Heading): void {
    const heap = this.#heap;
    heap.push({ heading, distance: this.#distances[heading]! });
    for (let at = heap.length - 1; at > 0;) {
      const parent = (at - 1) >> 1;
      if (!this.#isBefore(at, parent)) break;
      this.#swap(at, parent);
      at = parent;
    }
  }

  /** Takes out the nearest heading; −1 when none is left. */
  pop(): Heading {
    for (;;) {
      const heap = this.#heap;
      const first = heap[0];
      const last = heap.pop();
      if (first === undefined || last === undefined) return -1;
      if (heap.length > 0) {
        heap[0] = last;
        this.#sink();
      }
      if (first.distance === this.#distances[first.heading]!) return first.heading;
    }
  }

  #sink(): void {
    const size = this.#heap.length;
    for (let at = 0; ;) {
      const left = 2 * at + 1;
      const right = left + 1;
      let least = at;
      if (left < size && this.#isBefore(left, least)) least = left;
      if (right < size && this.#isBefore(right, least)) least = right;
      if (least === at) return;
      this.#swap(at, least);
      at = least;
    }
  }

  #isBefore(one: number, other: number): boolean {
    const a = this.#heap[one]!;
    const b = this.#heap[other]!;
    return a.distance < b.distance || (a.distance === b.distance && a.heading < b.heading);
  }

  #swap(one: number, other: number): void {
    const kept = this.#heap[one]!;
    this.#heap[one] = this.#heap[other]!;
    this.#heap[other] = kept;
  }
}
