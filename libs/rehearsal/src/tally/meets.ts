import type { Layout } from '@blockbell/railway';
import type { HeadMove } from './head-blocks.js';

/** A stay at a station: the block a train came from, −1 where that is not known. */
interface Visit {
  readonly station: number;
  readonly from: number;
}

/**
 * Counts meets on single track: one train leaves a station into the very block out of which another, still at the
 * station, came towards it.
 */
export class Meets {
  count = 0;
  /** By block: the station it belongs to, −1 for open line. */
  readonly #stationOf: readonly number[];
  /** By train; null on open line. */
  readonly #visits: (Visit | null)[];

  constructor(layout: Layout, headBlocks: readonly number[]) {
    const stationOf = layout.elements.map(() => -1);
    for (const { index, tracks } of layout.stations) {
      for (const { blocks } of tracks) for (const block of blocks) stationOf[block] = index;
    }
    this.#stationOf = stationOf;
    this.#visits = headBlocks.map((block) => this.#visit(block, -1));
  }

  move({ train, from, to }: HeadMove): void {
    const left = this.#visits[train] ?? null;
    const entered = this.#visit(to, from);
    if (left !== null && entered?.station === left.station) return;
    if (left !== null && this.#cameOutOf(to, left.station, train)) this.count++;
    this.#visits[train] = entered;
  }

  #visit(block: number, from: number): Visit | null {
    const station = this.#stationOf[block] ?? -1;
    return station < 0 ? null : { station, from };
  }

  #cameOutOf(block: number, station: number, except: number): boolean {
    return this.#visits.some(
      (visit, train) => train !== except && visit?.station === station && visit.from === block,
    );
  }
}
