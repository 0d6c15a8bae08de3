import {
  createSession,
  restoreWorkings,
  saveWorkings,
  step,
  type EngineState,
  type Input,
  type SavedWorkings,
  type World,
} from '@blockbell/railway';
import {
  createSimulatedLayout,
  resumeSimulatedLayout,
  type Fault,
  type SimulatedLayout,
  type SimulationState,
} from '@blockbell/simulation';
import { chainOf, nextChain } from './effect-chain.js';

/** Inputs that were written down together, and the chain over the effects up to their end. */
export interface ReplayedBatch {
  readonly inputs: readonly Input[];
  readonly chain: string;
}

/** A replay as text: the engine's memory and the simulated layout's. */
export interface SavedReplay {
  readonly engine: string;
  readonly layout: string;
}

interface SavedEngine {
  readonly state: EngineState;
  readonly workings: SavedWorkings;
}

/** With what the chain of one opening of a stored session begins. */
export const runName = (session: number, run: number): string => `session ${session} run ${run}`;

/** Chance of the simulated layout of a stored session. */
export const seedOf = (session: number): number => session * 1000 + 1;

/**
 * A session run again from its journal: the engine by its inputs, the simulated layout by what the engine commanded, each
 * at its moment. What the layout says is dropped, for the journal has it already.
 */
export class SessionReplay {
  #chain = '';

  private constructor(
    readonly world: World,
    readonly state: EngineState,
    readonly simulated: SimulatedLayout,
  ) {}

  /** From the beginning, on a world that was compiled for it. */
  static begin(world: World, seed: number, faults: readonly Fault[]): SessionReplay {
    const { layout, stock, timetable } = world;
    const places = timetable.storedPlaces;
    const simulated = createSimulatedLayout({ layout, stock, places, seed, faults });
    return new SessionReplay(world, createSession(world), simulated);
  }

  /** From what {@link save} gave, on a world that was compiled for it. */
  static restore(world: World, seed: number, saved: SavedReplay): SessionReplay {
    const { state, workings } = JSON.parse(saved.engine) as SavedEngine;
    restoreWorkings(world, state.added, workings);
    const { layout, stock } = world;
    const truth = JSON.parse(saved.layout) as SimulationState;
    return new SessionReplay(world, state, resumeSimulatedLayout({ layout, stock, seed }, truth));
  }

  save(): SavedReplay {
    return { engine: SessionReplay.saveEngine(this), layout: JSON.stringify(this.simulated.state) };
  }

  /** The engine's memory alone. */
  static saveEngine({ state, world }: { state: EngineState; world: World }): string {
    const engine: SavedEngine = { state, workings: saveWorkings(world) };
    return JSON.stringify(engine);
  }

  get chain(): string {
    return this.#chain;
  }

  /** The chain begins anew with each opening of the session. */
  beginRun(session: number, run: number): void {
    this.#chain = chainOf(runName(session, run));
  }

  /** Goes on within a run, after a batch that ended with this chain. */
  goOnFrom(chain: string): void {
    this.#chain = chain;
  }

  /** Feeds a batch; whether its effects were the same as when it was written. After one that differs, nothing holds. */
  feed({ inputs, chain }: ReplayedBatch): boolean {
    for (const input of inputs) {
      const { effects } = step(this.world, this.state, input);
      this.#chain = nextChain(this.#chain, effects);
      for (const effect of effects) {
        if (effect.kind === 'device') this.simulated.command(input.at, effect.command);
      }
    }
    const last = inputs.at(-1);
    if (last !== undefined) this.simulated.advance(last.at);
    return this.#chain === chain;
  }
}
