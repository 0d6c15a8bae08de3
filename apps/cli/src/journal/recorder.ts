import type { Effect, Input } from '@blockbell/railway';
import { chainOf, nextChain } from '@blockbell/journal';
import type { JournalBatch } from './journal-file.js';

/** Inputs in one batch: a difference found in a replay is told to within so many. */
const BATCH = 50;

/** Records what goes into an engine and, as a chain, what comes out of it. */
export class Recorder {
  readonly #batches: JournalBatch[] = [];
  #inputs: string[] = [];
  #chain: string;

  constructor(name: string) {
    this.#chain = chainOf(name);
  }

  record(input: Input, effects: readonly Effect[]): void {
    // Kept as text: an input must not change after it was recorded.
    this.#inputs.push(JSON.stringify(input));
    this.#chain = nextChain(this.#chain, effects);
    if (this.#inputs.length === BATCH) this.#close();
  }

  /** Everything recorded so far. */
  batches(): readonly JournalBatch[] {
    if (this.#inputs.length > 0) this.#close();
    return this.#batches;
  }

  #close(): void {
    const inputs = this.#inputs.map((text) => JSON.parse(text) as Input);
    this.#batches.push({ inputs, chain: this.#chain });
    this.#inputs = [];
  }
}
