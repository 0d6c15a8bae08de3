import type { Rehearsal } from '../rehearsal.js';

/** How often speeds are looked at, physical ms. */
const EVERY = 500;

/** Adds up how far trains really run, from their speeds twice a second as if they changed evenly in between. */
export class Odometer {
  /** Of all trains together, mm on the model. */
  distance = 0;
  #last = 0;
  /** By train: its speed when it was last looked at. */
  readonly #speeds = new Map<number, number>();

  constructor(rehearsal: Rehearsal) {
    rehearsal.observe(({ now, simulated }) => {
      const since = now - this.#last;
      if (since < EVERY) return;
      this.#last = now;
      for (const { train, leftBehind, speed } of simulated.truth.trains()) {
        if (leftBehind) continue;
        const before = this.#speeds.get(train) ?? 0;
        this.#speeds.set(train, Math.abs(speed));
        this.distance += ((before + Math.abs(speed)) / 2) * (since / 1000);
      }
    });
  }
}
