import type { RecordingPart } from '@blockbell/contract/messages';
import { mergeRows, replaceRows } from '../live/live-rows.js';
import type { LiveRows } from '../live/live-rows.js';

/** Brings rows to what they were at a moment of a recorded part. */
export class PartPlayer {
  #part: RecordingPart | null = null;
  /** How many of its deltas are in the rows. */
  #merged = 0;

  constructor(private readonly rows: LiveRows) {}

  /** `at`: physical ms. Goes on from what is shown where it can. */
  show(part: RecordingPart, at: number): void {
    const last = part.deltas[this.#merged - 1];
    if (part !== this.#part || (last && last.now > at)) {
      replaceRows(this.rows, part.snapshot);
      this.#part = part;
      this.#merged = 0;
    }
    for (;;) {
      const next = part.deltas[this.#merged];
      if (!next || next.now > at) return;
      mergeRows(this.rows, next.rows);
      this.#merged++;
    }
  }
}
