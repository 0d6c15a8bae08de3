import type { Heading, Layout, RouteIndex } from '../layout/layout.js';
import { HeadingQueue } from './heading-queue.js';

/** Shortest distances of one layout, kept for as long as workings ask for the same destinations. */
export class DistanceTables {
  readonly layout: Layout;
  /** By heading: the routes that end in it. */
  readonly routesInto: readonly (readonly RouteIndex[])[];
  readonly #tables = new Map<string, Float64Array>();

  constructor(layout: Layout) {
    this.layout = layout;
    const into: RouteIndex[][] = layout.routesFrom.map(() => []);
    for (const { index, to } of layout.routes) into[to]!.push(index);
    this.routesInto = into;
  }

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
      for (const index of this.routesInto[heading]!) {
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
