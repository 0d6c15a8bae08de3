import type { Railway } from './session-files.js';

/** What comes of it. */
export interface FetchTold {
  arrived(railway: Railway): void;
  /** It will be tried again. */
  failed(why: string): void;
}

/**
 * Fetches the railway of the session that runs, again and again until it comes. What was asked for before it was asked for
 * anew, or given up, counts no more, however late it comes.
 */
export class RailwayFetch {
  #asked = 0;

  /** `pause`: waits before it is tried again. */
  constructor(
    private readonly load: () => Promise<Railway>,
    private readonly pause: () => Promise<void>,
    private readonly told: FetchTold,
  ) {}

  async begin(): Promise<void> {
    const asked = ++this.#asked;
    while (asked === this.#asked) {
      try {
        const railway = await this.load();
        if (asked === this.#asked) this.told.arrived(railway);
        return;
      } catch (error) {
        if (asked !== this.#asked) return;
        this.told.failed(error instanceof Error ? error.message : String(error));
        await this.pause();
      }
    }
  }

  giveUp(): void {
    this.#asked += 1;
  }
}
