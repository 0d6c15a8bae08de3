import type { Rehearsal } from '../rehearsal.js';
import { HeadBlocks } from './head-blocks.js';
import { Meets } from './meets.js';
import { TrackUse, type Use } from './track-use.js';
import { Waits, type WaitTotals } from './waits.js';

/** What happened in a session, counted. Times in physical ms. */
export interface Figures {
  readonly steps: number;
  /** Meets on single track. */
  readonly meets: number;
  /** Waits for something in the way, of two seconds or more; their parts by the kind of reason. */
  readonly waits: WaitTotals & { readonly byReason: Readonly<Record<string, WaitTotals>> };
  readonly grants: number;
  /** Refused because the trains could no longer all have finished. */
  readonly refusedAsUnsafe: number;
  /** Refused because the steps allowed for the search did not suffice. */
  readonly refusedForBudget: number;
  readonly identities: { readonly reported: number; readonly inferred: number };
  readonly reversals: number;
  /** Commands that moved a turnout. */
  readonly throws: number;
  readonly turnouts: Use;
  readonly yardTracks: Use;
  readonly alarms: number;
}

/** Counts what happens in a rehearsal, from its making on. */
export class Tally {
  readonly #rehearsal: Rehearsal;
  readonly #heads: HeadBlocks;
  readonly #meets: Meets;
  readonly #waits: Waits;
  readonly #use: TrackUse;
  #steps = 0;

  constructor(rehearsal: Rehearsal) {
    const { state, world, simulated } = rehearsal;
    this.#rehearsal = rehearsal;
    this.#heads = new HeadBlocks(state.trains);
    this.#meets = new Meets(world.layout, this.#heads.blocks);
    this.#waits = new Waits(state.trains.length);
    this.#use = new TrackUse(world.layout, simulated.truth, this.#heads.blocks);
    rehearsal.observe((_, __, { effects, changes }) => {
      this.#steps++;
      for (const effect of effects) this.#use.carryOut(effect);
      for (const train of changes.trains) this.#look(train);
    });
  }

  #look(train: number): void {
    const state = this.#rehearsal.state.trains[train]!;
    this.#waits.see(train, state.wait, this.#rehearsal.now);
    const move = this.#heads.moved(train, state);
    if (move === null) return;
    this.#meets.move(move);
    this.#use.visit(move.to);
  }

  figures(): Figures {
    const { counts } = this.#rehearsal.state;
    return {
      steps: this.#steps,
      meets: this.#meets.count,
      waits: { ...this.#waits.all, byReason: this.#waits.byReason },
      grants: counts.grants,
      refusedAsUnsafe: counts.refusedDoomed,
      refusedForBudget: counts.refusedExhausted,
      identities: { reported: counts.reported, inferred: counts.inferred },
      reversals: counts.reversals,
      throws: counts.throws,
      turnouts: this.#use.turnouts(),
      yardTracks: this.#use.yardTracks(),
      alarms: counts.alarms,
    };
  }
}
