import type { TrainView } from '@blockbell/contract/messages';
import { untrack } from 'svelte';
import { SvelteMap } from 'svelte/reactivity';
import type { Frame } from './frame.svelte.js';
import { Pacer } from './pacer.js';
import type { Picture } from './picture.js';

/** So many rows are told with one picture. */
const MOST = 6;

/**
 * What is told of the trains in words: their rows a few with each picture, in the order in which they changed, so that no picture
 * bears the lines of all of them. To be made while a component is.
 */
export class PacedTrains {
  readonly rows = new SvelteMap<number, TrainView>();
  readonly #pacer = new Pacer<TrainView>();

  constructor(live: Picture, frame: Frame) {
    untrack(() => this.#bring(live.rows.trains, Infinity));
    $effect(() => {
      const changed = new Map(live.rows.trains.entries());
      const isBehind = untrack(() => this.#bring(changed, frame.seldom ? Infinity : MOST));
      if (isBehind) void frame.pictures;
    });
  }

  /** Whether some are left over. */
  #bring(trains: ReadonlyMap<number, TrainView>, most: number): boolean {
    for (const [train, row] of this.#pacer.take(trains, most))
      if (row) this.rows.set(train, row);
      else this.rows.delete(train);
    return this.#pacer.isBehind;
  }
}
