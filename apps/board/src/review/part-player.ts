import type { RecordingPart } from '@blockbell/contract/messages';
import { alterRows } from '../live/alter-rows.js';
import { mergeRows, noRows, replaceRows } from '../live/live-rows.js';
import type { LiveRows } from '../live/live-rows.js';

/** Brings rows to what they were at a moment of a recorded part. */
export class PartPlayer {
  #part: RecordingPart | null = null;
  /** How many of its deltas are in the rows. */
  #merged = 0;

  constructor(private readonly rows: LiveRows) {}

  /** `at`: physical ms. Goes on from what is shown where it can; rows that were the same then stay as they are. */
  show(part: RecordingPart, at: number): void {
    const last = part.deltas[this.#merged - 1];
    if (part === this.#part && !(last && last.now > at)) {
      this.#goOn(part, at, this.rows);
      return;
    }
    this.#part = part;
    this.#merged = 0;
    const then = noRows();
    replaceRows(then, part.snapshot);
    this.#goOn(part, at, then);
    alterRows(this.rows, then);
  }

  #goOn(part: RecordingPart, at: number, rows: LiveRows): void {
    for (;;) {
      const next = part.deltas[this.#merged];
      if (!next || next.now > at) return;
      mergeRows(rows, next.rows);
      this.#merged++;
    }
  }
}
