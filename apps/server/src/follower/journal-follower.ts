import { SessionReplay, type SavedReplay } from '@blockbell/journal';
import {
  compileWorld,
  storedPlaces,
  type Input,
  type LayoutFile,
  type StockFile,
  type TimetableFile,
} from '@blockbell/railway';
import type { Fault } from '@blockbell/simulation';

/** With what a follower begins; everything can be handed to another thread. */
export interface FollowerStart {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
  readonly session: number;
  readonly run: number;
  readonly seed: number;
  readonly faults: readonly Fault[];
  /** The session as it was taken up; null: it begins. */
  readonly saved: SavedReplay | null;
}

export type ToFollower =
  | {
      readonly kind: 'batch';
      readonly batch: number;
      /** JSON array of inputs. */
      readonly inputs: string;
      readonly chain: string;
    }
  | { readonly kind: 'snapshot' }
  | { readonly kind: 'present'; readonly id: number };

export type FromFollower =
  /** The inputs led to other effects than the session had: it would not be the same again. */
  | { readonly kind: 'differs'; readonly batch: number }
  | {
      readonly kind: 'snapshot';
      readonly batch: number;
      readonly chain: string;
      readonly places: string;
      readonly state: string;
      readonly layout: string;
    }
  /** The engine's memory as it is after the last batch, as text; null: it is not to be trusted. */
  | { readonly kind: 'present'; readonly id: number; readonly engine: string | null }
  /** There is nothing to be trusted, or nothing new, to make a snapshot of. */
  | { readonly kind: 'no-snapshot' };

/** Runs a session once more behind its journal: checks that it is the same, and makes snapshots of it. */
export class JournalFollower {
  readonly #replay: SessionReplay;
  #batch = -1;
  #saved = -1;
  #differs = false;

  constructor({ layout, stock, timetable, session, run, seed, faults, saved }: FollowerStart) {
    const world = compileWorld(layout, stock, timetable);
    this.#replay =
      saved === null
        ? SessionReplay.begin(world, seed, faults)
        : SessionReplay.restore(world, seed, saved);
    this.#replay.beginRun(session, run);
  }

  /** The answer, or null where none is due. */
  take(message: ToFollower): FromFollower | null {
    switch (message.kind) {
      case 'batch':
        return this.#follow(message);
      case 'snapshot':
        return this.#snapshot();
      case 'present': {
        const engine = this.#differs ? null : SessionReplay.saveEngine(this.#replay);
        return { kind: 'present', id: message.id, engine };
      }
    }
  }

  #follow({ batch, inputs, chain }: ToFollower & { kind: 'batch' }): FromFollower | null {
    if (this.#differs) return null;
    this.#batch = batch;
    this.#differs = !this.#replay.feed({ inputs: JSON.parse(inputs) as Input[], chain });
    return this.#differs ? { kind: 'differs', batch } : null;
  }

  #snapshot(): FromFollower {
    if (this.#differs || this.#batch === this.#saved) return { kind: 'no-snapshot' };
    this.#saved = this.#batch;
    const { engine, layout } = this.#replay.save();
    const places = JSON.stringify(storedPlaces(this.#replay));
    const { chain } = this.#replay;
    return { kind: 'snapshot', batch: this.#batch, chain, places, state: engine, layout };
  }
}
