import type { TrainView } from '@blockbell/contract/messages';
import { untrack } from 'svelte';
import { SvelteMap } from 'svelte/reactivity';
import type { Frame } from './frame.svelte.js';
import { Pacer } from './pacer.js';
import type { Picture } from './picture.js';
import type { Railway } from './session-files.js';
import { tellsTheSame } from './told-train.js';
import type { ToldTrain } from './told-train.js';

/** So many rows are told with one turn of words, or this share of those that wait where that is more. */
const LEAST = 1;
const SHARE = 1 / 8;

/**
 * What is told of the trains in words and lines: their rows a few at a time, in the order in which they changed, so that
 * no frame bears the lines of all of them. To be made while a component is.
 */
export class PacedTrains {
  readonly rows = new SvelteMap<number, ToldTrain>();
  readonly #pacer = new Pacer<TrainView>(tellsTheSame);
  /** The railway that the rows are about. */
  #railway: Railway | null = null;
  /** The turn of words with which rows were told last. */
  #turn = 0;

  constructor(live: Picture, frame: Frame) {
    $effect.pre(() => {
      const trains = new Map(live.rows.trains.entries());
      const { railway } = live;
      const isBehind = untrack(() => this.#follow(trains, railway, frame));
      if (isBehind) frame.waitForWords();
    });
  }

  /** Whether some are left over. */
  #follow(
    trains: ReadonlyMap<number, TrainView>,
    railway: Railway | null,
    { words, atOnce }: Frame,
  ): boolean {
    const isOther = railway !== this.#railway;
    this.#railway = railway;
    if (isOther || atOnce || this.rows.size === 0) return this.#bring(trains, Infinity);
    const isTurn = words !== this.#turn;
    this.#turn = words;
    return this.#bring(trains, isTurn ? Math.max(LEAST, Math.ceil(this.#pacer.left * SHARE)) : 0);
  }

  #bring(trains: ReadonlyMap<number, TrainView>, most: number): boolean {
    for (const [train, row] of this.#pacer.take(trains, most))
      if (row) this.rows.set(train, row);
      else this.rows.delete(train);
    return this.#pacer.left > 0;
  }
}
