import type { Hold } from './occupation.js';

/** An entry of the book: who holds a resource. */
export interface Entry extends Hold {
  readonly train: number;
  readonly trip: number;
}

/** Two trips on the same track at the same time, fast ms. */
export interface Overlap {
  readonly other: Entry;
  readonly hold: Hold;
  readonly length: number;
}

/** Bits for the number of a trip in a key; a train runs fewer trips. */
const TRIPS = 4096;

/** Who holds which track when. */
export class TrackBook {
  readonly #entries: Entry[][] = [];

  add(train: number, trip: number, holds: readonly Hold[]): void {
    for (const { resource, from, to } of holds)
      (this.#entries[resource] ??= []).push({ resource, from, to, train, trip });
  }

  remove(train: number, holds: readonly Hold[]): void {
    for (const { resource } of holds) {
      const list = this.#entries[resource]!;
      this.#entries[resource] = list.filter((entry) => entry.train !== train);
    }
  }

  /** The longest overlap with each trip of other trains. */
  overlaps(train: number, holds: readonly Hold[]): Overlap[] {
    const longest = new Map<number, Overlap>();
    for (const hold of holds) {
      const entries = this.#entries[hold.resource];
      if (entries === undefined) continue;
      for (const other of entries) {
        if (other.from >= hold.to || other.to <= hold.from || other.train === train) continue;
        const length = Math.min(hold.to, other.to) - Math.max(hold.from, other.from);
        const key = other.train * TRIPS + other.trip;
        if ((longest.get(key)?.length ?? 0) < length) longest.set(key, { other, hold, length });
      }
    }
    return [...longest.values()];
  }
}
