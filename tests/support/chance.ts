/** Chance that is the same in every run: numbers drawn from a seed. */
export class Chance {
  #state: number;

  constructor(seed: number) {
    this.#state = seed >>> 0;
  }

  /** A whole number from 0 to `count` − 1. */
  below(count: number): number {
    // Mixing a counter, so that neighbouring seeds have nothing in common.
    this.#state = (this.#state + 0x9e3779b9) >>> 0;
    let mixed = this.#state;
    mixed = Math.imul(mixed ^ (mixed >>> 16), 0x21f0aaad);
    mixed = Math.imul(mixed ^ (mixed >>> 15), 0x735a2d97);
    return Math.floor((((mixed ^ (mixed >>> 15)) >>> 0) / 0x1_0000_0000) * count);
  }

  /** A whole number from `low` to `high`. */
  between(low: number, high: number): number {
    return low + this.below(high - low + 1);
  }

  pick<T>(list: readonly T[]): T {
    if (list.length === 0) throw new Error('nothing to pick from');
    return list[this.below(list.length)]!;
  }
}
