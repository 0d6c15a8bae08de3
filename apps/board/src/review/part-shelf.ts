import type { RecordingPart } from '@blockbell/contract/messages';
import { fetchPart } from './fetch-recording.js';

/** How many parts are held at a time. */
const HELD = 12;

/** Parts of one recording that were fetched already, the ones asked for last. */
export class PartShelf {
  readonly #held = new Map<number, RecordingPart>();
  readonly #coming = new Map<number, Promise<RecordingPart>>();

  constructor(private readonly session: number) {}

  held(part: number): RecordingPart | null {
    const found = this.#held.get(part);
    if (!found) return null;
    this.#held.delete(part);
    this.#held.set(part, found);
    return found;
  }

  fetch(part: number): Promise<RecordingPart> {
    const coming = this.#coming.get(part) ?? this.#fetch(part);
    this.#coming.set(part, coming);
    return coming;
  }

  /** Fetches a part that will be wanted soon; whether that fails shows when it is. */
  prepare(part: number): void {
    if (!this.#held.has(part)) this.fetch(part).catch(() => {});
  }

  async #fetch(part: number): Promise<RecordingPart> {
    try {
      const fetched = await fetchPart(this.session, part);
      this.#held.set(part, fetched);
      const [oldest] = this.#held.keys();
      if (this.#held.size > HELD && oldest !== undefined) this.#held.delete(oldest);
      return fetched;
    } finally {
      this.#coming.delete(part);
    }
  }
}
