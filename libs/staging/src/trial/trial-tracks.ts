import type { Berth, MoveUp, SceneTrack, StandingTrain, TrackEnd } from '@blockbell/railway';

/** A track of the yard as the trial keeps it: who is in which slot, from end a to end b. */
export class TrialTrack {
  readonly #slots: (StandingTrain | null)[];
  #lastUsed = 0;

  constructor(
    private readonly file: Pick<SceneTrack, 'id' | 'name' | 'length' | 'slotLengths'>,
    slots: number,
  ) {
    this.#slots = Array.from({ length: slots }, () => null);
  }

  get scene(): SceneTrack {
    return { ...this.file, slots: this.#slots, lastUsed: this.#lastUsed };
  }

  /** Puts a train in by the end of its berth: as far as it can go, or no further than it must. Its slots must be free. */
  put(standing: StandingTrain, berth: Berth, moveUp: MoveUp, visit: number): void {
    const order = this.#from(berth.in);
    const first = order.findIndex((slot) => this.#slots[slot] !== null);
    const free = first < 0 ? order : order.slice(0, first);
    const taken = moveUp === 'never' ? free.slice(0, berth.needs) : free.slice(-berth.needs);
    for (const slot of taken) this.#slots[slot] = standing;
    this.#lastUsed = visit;
  }

  /** Trains between a train and the end it leaves by. */
  inFrontOf({ train, out }: StandingTrain): number[] {
    const order = this.#from(out).map((slot) => this.#slots[slot]!);
    const own = order.findIndex((it) => it?.train === train);
    return [...new Set(order.slice(0, own).flatMap((it) => (it === null ? [] : [it.train])))];
  }

  takeOut(train: number): void {
    this.#slots.forEach((it, slot) => {
      if (it?.train === train) this.#slots[slot] = null;
    });
  }

  #from(end: TrackEnd): number[] {
    const order = this.#slots.map((_, slot) => slot);
    return end === 'a' ? order : order.reverse();
  }
}
