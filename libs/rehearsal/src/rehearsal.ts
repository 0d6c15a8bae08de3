import {
  createSession,
  compileWorld,
  nextDeadline,
  step,
  type Command,
  type EngineState,
  type Input,
  type LayoutFile,
  type StepResult,
  type StockFile,
  type TimetableFile,
  type World,
} from '@blockbell/railway';
import { createSimulatedLayout, type Fault, type SimulatedLayout } from '@blockbell/simulation';

export interface RehearsalSetup {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
  /** Same seed, same session to the byte. */
  readonly seed: number;
  readonly faults?: readonly Fault[];
}

/** Called after every engine step, with what went in and what came of it. */
export type StepObserver = (rehearsal: Rehearsal, input: Input, result: StepResult) => void;

/**
 * A session run in simulation: the engine and a simulated layout, joined by the device port and simulated time, as
 * fast as the machine goes. Commands of people are given with {@link command}.
 */
export class Rehearsal {
  readonly world: World;
  readonly state: EngineState;
  readonly simulated: SimulatedLayout;
  #now = 0;
  readonly #observers: StepObserver[] = [];

  constructor(setup: RehearsalSetup) {
    this.world = compileWorld(setup.layout, setup.stock, setup.timetable);
    this.state = createSession(this.world);
    this.simulated = createSimulatedLayout({
      layout: this.world.layout,
      stock: this.world.stock,
      places: this.world.timetable.storedPlaces,
      seed: setup.seed,
      ...(setup.faults === undefined ? {} : { faults: setup.faults }),
    });
  }

  /** Simulated physical time reached, ms. */
  get now(): number {
    return this.#now;
  }

  observe(observer: StepObserver): void {
    this.#observers.push(observer);
  }

  /** When something happens next by itself, ms; null: never. */
  nextAt(): number | null {
    const layout = this.simulated.nextAt();
    const engine = nextDeadline(this.state);
    if (layout === null) return engine;
    return engine === null ? layout : Math.min(layout, engine);
  }

  /** Lets time pass up to `until` ms, event by event. */
  runTo(until: number): void {
    for (let next = this.nextAt(); next !== null && next <= until; next = this.nextAt()) {
      this.#reach(Math.max(next, this.#now));
    }
    this.#reach(until);
  }

  /** Gives a person's command now; returns why it was refused, or null. */
  command(by: string, command: Command): string | null {
    const { effects } = this.#feed({ at: this.#now, kind: 'command', by, command });
    for (const effect of effects) {
      if (effect.kind === 'answer') return effect.refusal?.text ?? null;
    }
    return null;
  }

  #reach(at: number): void {
    this.#now = at;
    for (const { at: sent, event } of this.simulated.advance(at)) {
      this.#feed({ at: Math.ceil(sent), kind: 'device', event });
    }
    const due = nextDeadline(this.state);
    if (due !== null && due <= at) this.#feed({ at, kind: 'deadline' });
  }

  #feed(input: Input): StepResult {
    const result = step(this.world, this.state, input);
    for (const effect of result.effects) {
      if (effect.kind === 'device') this.simulated.command(this.#now, effect.command);
    }
    for (const observe of this.#observers) observe(this, input, result);
    return result;
  }
}
