import type { ReactiveRows } from './reactive-rows.svelte.js';
import type { Railway } from './session-files.js';
import type { LinkFacts, TimeAnchor } from './time-estimate.js';

/** What the screens draw: rows, the railway they are about, and the time they stand for; live, or from a recording. */
export interface Picture extends LinkFacts {
  readonly rows: ReactiveRows;
  readonly railway: Railway | null;
  readonly anchor: TimeAnchor;
  /** Brings the rows what was heard since the last time; whether there was anything. */
  takeIn?(): boolean;
  /** Whether another moment was gone to since the last time: nobody waits for a part of what is shown then. */
  goneElsewhere?(): boolean;
  /** Before a moment (physical ms) is drawn; a recording brings its rows there. */
  reach?(now: number): void;
}
