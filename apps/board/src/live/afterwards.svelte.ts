import { untrack } from 'svelte';
import type { Frame } from './frame.svelte.js';

/** Something that is shown with a frame of its own, the newest of it. To be made while a component is. */
export class Afterwards<T> {
  current: T;
  /** The turn of asides with which it followed last. */
  #turn = 0;

  /** `read` gives another value when there is something new. */
  constructor(read: () => T, frame: Frame) {
    this.current = $state.raw(untrack(read));
    $effect.pre(() => {
      const value = read();
      const isWaiting = untrack(() => this.#follow(value, frame));
      if (isWaiting) frame.waitForAsides();
    });
  }

  #follow(value: T, { asides, atOnce }: Frame): boolean {
    const isTurn = asides !== this.#turn;
    this.#turn = asides;
    if (value === this.current) return false;
    if (!isTurn && !atOnce) return true;
    this.current = value;
    return false;
  }
}
