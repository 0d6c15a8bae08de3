/** Seeded generator of chance (xorshift on 32 bits): the same seed, the same numbers. */
export class Chance {
  #state: number;

  constructor(seed: number) {
    // Spread neighbouring seeds apart; zero would stay zero.
    this.#state = Math.imul(seed ^ 0x9e3779b9, 0x85ebca6b) | 0 || 1;
    for (let i = 0; i < 8; i++) this.#next();
  }

  /** Whole number from 0 to `count` − 1. */
  below(count: number): number {
    return Math.floor((this.#next() / 0x1_0000_0000) * count);
  }

  pick<T>(items: readonly T[]): T {
    return items[this.below(items.length)]!;
  }

  #next(): number {
    let state = this.#state;
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    this.#state = state;
    return state >>> 0;
  }
}
