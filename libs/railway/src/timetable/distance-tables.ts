import type { Heading, Layout } from '../layout/layout.js';
import { HeadingQueue } from './heading-queue.js';

/** Shortest distances of one layout, kept for as long as workings ask for the same destinations. */
export class DistanceTables {
  readonly #tables = new Map<string, Float64Array>();

  constructor(readonly layout: Layout) {}

  /** By heading: mm from its end to the end of the nearest of the targets; Infinity where none can be reached. */
  to(targets: readonly Heading[]): Float64Array {
    const key = [...targets].sort((a, b) => a - b).join();
    const known = this.#tables.get(key);
    if (known !== undefined) return known;
    const table = this.#search(targets);
    this.#tables.set(key, table);
    return table;
  }

  #search(targets: readonly Heading[]): Float64Array {
    const distances = new Float64Array(this.layout.routesFrom.length).fill(Infinity);
    const queue = new HeadingQueue(distances);
    for (const heading of targets) {
      distances[heading] = 0;
      queue.push(heading);
    }
    for (let heading = queue.pop(); heading >= 0; heading = queue.pop()) {
      for (const index of this.layout.routesInto[heading]!) {
        const { from, length } = this.layout.routes[index]!;
        const distance = distances[heading]! + length;
        if (distance >= distances[from]!) continue;
        distances[from] = distance;
        queue.push(from);
      }
    }
    return distances;
  }
}
