import { untrack } from 'svelte';
import type { LiveRows } from '../live/live-rows.js';
import type { Box } from './box.js';
import { ItemWatch } from './item-watch.js';
import { lampBox, lampShape, lampShows } from './lamp-shapes.js';
import type { LampSpot } from './lamp-spots.js';

/** What the signals cover that say something: those that a train is coming to, or may pass. */
export class LitLamps {
  readonly #watch: ItemWatch;
  /** By the index of the lamp's spot. */
  readonly #lit = new Map<number, Box>();
  #boxes: readonly Box[] = [];

  /** `scale`: for which the spots were found. */
  constructor(
    readonly spots: readonly LampSpot[],
    private readonly scale: number,
    private readonly rows: LiveRows,
  ) {
    this.#watch = new ItemWatch(spots.map(lampShows), rows);
    untrack(() => this.#lookAt(spots.keys()));
  }

  /** In pixels from the drawing's origin; the same array while nothing changes. */
  take(): readonly Box[] {
    const changed = this.#watch.take();
    // Trains change all the time; those whose way does are among what changed.
    untrack(() => this.#lookAt(changed));
    return this.#boxes;
  }

  stop(): void {
    this.#watch.stop();
  }

  #lookAt(indexes: Iterable<number>): void {
    let changed = false;
    for (const index of indexes) {
      const spot = this.spots[index];
      if (!spot) continue;
      const shape = lampShape(spot, this.rows);
      const box = shape === 'bar' ? null : lampBox(spot, shape, this.scale);
      if (box?.width === this.#lit.get(index)?.width) continue;
      changed = true;
      if (box) this.#lit.set(index, box);
      else this.#lit.delete(index);
    }
    if (changed) this.#boxes = [...this.#lit.values()];
  }
}
