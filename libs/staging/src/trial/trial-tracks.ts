import type { Berth, MoveUp, SceneTrack, StandingTrain, TrackEnd } from '@blockbell/railway';

/** A track of the yard as the trial keeps it: who is in which slot, from end a to end b. */
export class TrialTrack {
  readonly #slots: (StandingTrain | null)[];
  /** By train: the end it came in by. */
  readonly #cameBy = new Map<number, TrackEnd>();
  #lastUsed = 0;

  constructor(private readonly empty: SceneTrack) {
    this.#slots = [...empty.slots];
  }

  get scene(): SceneTrack {
    return { ...this.empty, slots: this.#slots, lastUsed: this.#lastUsed };
  }

  /** Puts a train in by the end of its berth: as far as it can go, or no further than it must. Its slots must be free. */
  put(standing: StandingTrain, berth: Berth, moveUp: MoveUp, visit: number): void {
    const order = this.#from(berth.in);
    const first = order.findIndex((slot) => this.#slots[slot] !== null);
    const free = first < 0 ? order : order.slice(0, first);
    const taken = moveUp === 'never' ? free.slice(0, berth.needs) : free.slice(-berth.needs);
    for (const slot of taken) this.#slots[slot] = standing;
    this.#cameBy.set(standing.train, berth.in);
    this.#lastUsed = visit;
  }

  /** Trains between a train and the end it leaves by. */
  inFrontOf({ train, out }: StandingTrain): number[] {
    const order = this.#from(out).map((slot) => this.#slots[slot]!);
    const own = order.findIndex((it) => it?.train === train);
    return [...new Set(order.slice(0, own).flatMap((it) => (it === null ? [] : [it.train])))];
  }

  takeOut(train: number, moveUp: MoveUp): void {
    this.#slots.forEach((it, slot) => {
      if (it?.train === train) this.#slots[slot] = null;
    });
    if (moveUp === 'whenever-free') while (this.#oneMovesUp());
  }

  /** Has one train go on into the free slot ahead of it, away from the end it came in by. */
  #oneMovesUp(): boolean {
    return this.#slots.some((standing) => {
      if (standing === null) return false;
      const order = this.#from(this.#cameBy.get(standing.train)!);
      const last = order.findLastIndex((slot) => this.#slots[slot] === standing);
      const ahead = order[last + 1];
      if (ahead === undefined || this.#slots[ahead] !== null) return false;
      this.#slots[ahead] = standing;
      this.#slots[order.find((slot) => this.#slots[slot] === standing)!] = null;
      return true;
    });
  }

  #from(end: TrackEnd): number[] {
    const order = this.#slots.map((_, slot) => slot);
    return end === 'a' ? order : order.reverse();
  }
}
