import { untrack } from 'svelte';
import type { Frame } from './frame.svelte.js';

/** So many turns of words later than it comes; those before have more urgent things to tell. */
const LATER = 2;

/** Something that is shown a little later than it comes, the newest of it. To be made while a component is. */
export class Afterwards<T> {
  current: T;
  #due: number | null = null;

  /** `read` gives another value when there is something new. */
  constructor(read: () => T, frame: Frame) {
    this.current = $state.raw(untrack(read));
    $effect.pre(() => {
      const value = read();
      const isWaiting = untrack(() => this.#follow(value, frame));
      if (isWaiting) frame.waitForWords();
    });
  }

  #follow(value: T, { words, atOnce }: Frame): boolean {
    if (value === this.current) return false;
    this.#due ??= words + LATER;
    if (!atOnce && words < this.#due) return true;
    this.current = value;
    this.#due = null;
    return false;
  }
}
