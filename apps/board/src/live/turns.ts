/** What a frame of the screen brings on. */
export type Turn = 'trains' | Waiting;

/** What may wait for a frame of its own. */
export type Waiting = (typeof OTHERS)[number];

/** Labels look for their places with one frame, and are put there with another. */
const OTHERS = ['labels', 'places', 'words', 'asides', 'clock', 'lines'] as const;
/** So many frames at most lie between two that move the trains. */
const BETWEEN = 2;

/** Moves trains with every second or third frame, and brings on what waits in those between, one thing after the other. */
export class Turns {
  #last: Waiting = 'lines';
  #sinceTrains = BETWEEN;

  /** `waits`: which of the others do. Null: nothing is to be done with this frame. */
  next(waits: ReadonlySet<Waiting>): Turn | null {
    const after = OTHERS.indexOf(this.#last) + 1;
    const other = [...OTHERS.slice(after), ...OTHERS.slice(0, after)].find((one) => waits.has(one));
    if (this.#sinceTrains >= BETWEEN || (this.#sinceTrains > 0 && other === undefined)) {
      this.#sinceTrains = 0;
      return 'trains';
    }
    this.#sinceTrains += 1;
    if (other !== undefined) this.#last = other;
    return other ?? null;
  }
}
