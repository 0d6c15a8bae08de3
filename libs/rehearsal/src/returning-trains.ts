import {
  answered,
  beginReturn,
  dueCommands,
  isOver,
  planReturn,
  type ReturnRun,
} from '@blockbell/staging';
import type { Rehearsal } from './rehearsal.js';

const NAME = 'return to start';
/** How often a return that could not be finished is planned anew from where the trains stand then. */
const AGAIN = 3;

/** A return to start in a rehearsal: planned, carried out, and asked for again when something came in between. */
export class ReturningTrains {
  readonly #runs: ReturnRun[] = [];

  constructor(private readonly rehearsal: Rehearsal) {}

  /** Every plan with how far it came, the last one last. */
  get runs(): readonly ReturnRun[] {
    return this.#runs;
  }

  /** Gives what is due; whether nothing more is to come. Nothing is begun while the session does not run. */
  look(): boolean {
    const { world, state, now } = this.rehearsal;
    if (this.#runs.length === 0) {
      if (state.session.phase.kind !== 'running') return false;
      this.#plan();
    }
    const run = this.#runs.at(-1)!;
    for (let isAccepted = true; isAccepted;) {
      isAccepted = false;
      for (const { move, command } of dueCommands(world, state, run)) {
        const refused = this.rehearsal.command(NAME, command);
        answered(run, move, refused, now);
        isAccepted ||= refused === null;
      }
    }
    if (!isOver(run)) return false;
    const isIncomplete = run.progress.some(({ stage }) => stage !== 'made');
    if (!isIncomplete || this.#runs.length > AGAIN) return true;
    this.#plan();
    return false;
  }

  #plan(): void {
    this.#runs.push(beginReturn(planReturn(this.rehearsal.world, this.rehearsal.state)));
  }
}
