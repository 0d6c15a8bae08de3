import type { FaultKind } from '@blockbell/simulation';
import type { Rehearsal } from '../rehearsal.js';
import { isTurnedRound, standsOnItsWay } from '../where-believed.js';

/** How long trains were known where they were, in train-ms of physical time from the start of the session on. */
export interface IdentityTimes {
  /** Believed to be certain, and true: the train stands on the way held for it, the right way round. */
  readonly right: number;
  /** Automation would not move it before something or somebody tells more. */
  readonly uncertain: number;
  /** Believed to be certain, and not true; by the fault that no logic could prevent, `none` without one. */
  readonly wrong: Readonly<Record<string, number>>;
}

/** How often belief is compared with the truth, physical ms. */
const EVERY = 1000;

/** Compares which train is believed where with the truth, about every second of a session. */
export class IdentityWatch {
  #right = 0;
  #uncertain = 0;
  readonly #wrong: Record<string, number> = {};
  #last: number | null = null;
  readonly #rehearsal: Rehearsal;
  readonly #excuseOf: (train: number) => FaultKind | null;

  /** `excuseOf`: the fault that may have moved a train where no logic could keep it from. */
  constructor(rehearsal: Rehearsal, excuseOf: (train: number) => FaultKind | null) {
    this.#rehearsal = rehearsal;
    this.#excuseOf = excuseOf;
    rehearsal.observe(() => this.#look());
  }

  get times(): IdentityTimes {
    return { right: this.#right, uncertain: this.#uncertain, wrong: { ...this.#wrong } };
  }

  #look(): void {
    const { now, state } = this.#rehearsal;
    if (!state.session.begun || state.session.phase.kind === 'ended') return;
    const since = now - (this.#last ?? now);
    if (this.#last !== null && since < EVERY) return;
    this.#last = now;
    state.trains.forEach((_, train) => this.#judge(train, since));
  }

  #judge(train: number, since: number): void {
    const { state, simulated } = this.#rehearsal;
    const isThere = simulated.truth.train(train) !== null;
    const isAbsent = state.trains[train]!.activity.kind === 'absent';
    if (isAbsent && !isThere) return;
    if (!isAbsent && !this.#isCertain(train)) {
      this.#uncertain += since;
      return;
    }
    const isRight =
      isThere &&
      !isAbsent &&
      standsOnItsWay(this.#rehearsal, train) &&
      !isTurnedRound(this.#rehearsal, train);
    if (isRight) this.#right += since;
    else {
      const cause = this.#excuseOf(train) ?? 'none';
      this.#wrong[cause] = (this.#wrong[cause] ?? 0) + since;
    }
  }

  /** Whether automation may act on where the train is believed. */
  #isCertain(index: number): boolean {
    const { trains, doubts } = this.#rehearsal.state;
    const { identity, confirmed, adrift } = trains[index]!;
    if (!confirmed || adrift || doubts.some((doubt) => doubt.trains.includes(index))) return false;
    return identity.certainty !== 'ambiguous' && identity.certainty !== 'expected';
  }
}
