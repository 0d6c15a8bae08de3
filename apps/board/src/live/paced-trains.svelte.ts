import type { TrainView } from '@blockbell/contract/messages';
import { untrack } from 'svelte';
import { SvelteMap } from 'svelte/reactivity';
import type { Frame } from './frame.svelte.js';
import { Pacer } from './pacer.js';
import type { Picture } from './picture.js';
import type { Railway } from './session-files.js';

/** So many rows are told with one picture. */
const MOST = 4;
/** The first picture after a message has the track to paint; words come with the one after it. */
const LATER = 2;

/**
 * What is told of the trains in words and lines: their rows a few with each picture, in the order in which they changed, so that
 * no picture bears the lines of all of them. To be made while a component is.
 */
export class PacedTrains {
  readonly rows = new SvelteMap<number, TrainView>();
  readonly #pacer = new Pacer<TrainView>();
  /** The railway that the rows are about. */
  #railway: Railway | null = null;
  /** The picture with which the next rows may be told. */
  #due = 0;

  constructor(live: Picture, frame: Frame) {
    $effect.pre(() => {
      const trains = new Map(live.rows.trains.entries());
      const { railway } = live;
      const isBehind = untrack(() => this.#follow(trains, railway, frame));
      if (isBehind) void frame.pictures;
    });
  }

  /** Whether some are left over. */
  #follow(
    trains: ReadonlyMap<number, TrainView>,
    railway: Railway | null,
    { pictures, seldom }: Frame,
  ): boolean {
    const isOther = railway !== this.#railway;
    this.#railway = railway;
    if (isOther || seldom || this.rows.size === 0) return this.#bring(trains, Infinity);
    if (!this.#pacer.isBehind) this.#due = pictures + LATER;
    return this.#bring(trains, pictures < this.#due ? 0 : MOST);
  }

  #bring(trains: ReadonlyMap<number, TrainView>, most: number): boolean {
    for (const [train, row] of this.#pacer.take(trains, most))
      if (row) this.rows.set(train, row);
      else this.rows.delete(train);
    return this.#pacer.isBehind;
  }
}
