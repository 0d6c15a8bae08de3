import {
  createSession,
  compileWorld,
  nextDeadline,
  step,
  type Command,
  type EngineState,
  type Input,
  type Layout,
  type LayoutFile,
  type Precedence,
  type StepResult,
  type StockFile,
  type TimetableFile,
  type World,
} from '@blockbell/railway';
import type { PlanningChoices } from '@blockbell/planning';
import { createSimulatedLayout, type Fault, type SimulatedLayout } from '@blockbell/simulation';
import { RehearsedPlanning } from './rehearsed-planning.js';

export interface RehearsalSetup {
  readonly layout: LayoutFile;
  /** The layout compiled already, for whoever runs many sessions on it. */
  readonly compiledLayout?: Layout;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
  /** Same seed, same session to the byte. */
  readonly seed: number;
  readonly faults?: readonly Fault[];
  readonly restarts?: readonly Restart[];
  /** Plans are made and followed; none if left out. */
  readonly planning?: PlanningChoices;
  /** Who is asked first where no plan says so; `booked` if left out. */
  readonly precedence?: Precedence;
}

/** The program that runs the session is killed and started again; the layout isn't. */
export interface Restart {
  /** When, physical ms. */
  readonly at: number;
  /** The inputs of so many ms before it were never written down: the engine forgets them, and what it did about them. */
  readonly lost: number;
}

/** A session under way that a rehearsal takes up; the files of its setup are those it runs on. */
export interface BegunSession {
  /** With its nodes numbered as the state has them. */
  readonly world: World;
  /** Changed by the rehearsal. */
  readonly state: EngineState;
  readonly simulated: SimulatedLayout;
}

/** Called after every engine step, with what went in and what came of it. */
export type StepObserver = (rehearsal: Rehearsal, input: Input, result: StepResult) => void;

/**
 * A session run in simulation: the engine and a simulated layout, joined by the device port and simulated time, as
 * fast as the machine goes. Commands of people are given with {@link command}.
 */
export class Rehearsal {
  readonly world: World;
  readonly simulated: SimulatedLayout;
  #state: EngineState;
  #now = 0;
  readonly #observers: StepObserver[] = [];
  /** Still to come, the next last. */
  readonly #restarts: Restart[];
  /** All that was written down; kept while a restart is to come. */
  #journal: Input[] = [];
  #planning: RehearsedPlanning | null;

  /** @param begun goes on from there instead of beginning anew; restarts can't be rehearsed then */
  constructor(
    private readonly setup: RehearsalSetup,
    begun: BegunSession | null = null,
  ) {
    const { layout, stock, timetable } = setup;
    this.world = begun?.world ?? compileWorld(layout, stock, timetable, setup.compiledLayout);
    this.#state = begun?.state ?? createSession(this.world, setup.precedence);
    this.#now = this.#state.now;
    this.#planning = this.#startPlanning(begun?.state ?? null);
    this.#restarts = [...(setup.restarts ?? [])].sort((a, b) => b.at - a.at);
    this.simulated =
      begun?.simulated ??
      createSimulatedLayout({
        layout: this.world.layout,
        stock: this.world.stock,
        places: this.world.timetable.storedPlaces,
        seed: setup.seed,
        ...(setup.faults === undefined ? {} : { faults: setup.faults }),
      });
  }

  /** The engine's memory; another object after a restart. */
  get state(): EngineState {
    return this.#state;
  }

  /** Simulated physical time reached, ms. */
  get now(): number {
    return this.#now;
  }

  /** From now on `observer` is called after every step; returns how to end that. */
  observe(observer: StepObserver): () => void {
    this.#observers.push(observer);
    return () => this.#observers.splice(this.#observers.indexOf(observer), 1);
  }

  /** When something happens next by itself, ms; null: never. */
  nextAt(): number | null {
    const moments = [
      this.simulated.nextAt(),
      nextDeadline(this.state),
      this.#planning?.nextAt ?? null,
    ].filter((at) => at !== null);
    return moments.length === 0 ? null : Math.min(...moments);
  }

  /** Lets time pass up to `until` ms, event by event. */
  runTo(until: number): void {
    for (let next = this.#restarts.at(-1); next !== undefined && next.at <= until;) {
      this.#runOnTo(Math.max(next.at, this.#now));
      this.#restarts.pop();
      this.#startAgain(next.lost);
      next = this.#restarts.at(-1);
    }
    this.#runOnTo(until);
  }

  #runOnTo(until: number): void {
    for (let next = this.nextAt(); next !== null && next <= until; next = this.nextAt()) {
      this.#reach(Math.max(next, this.#now));
    }
    this.#reach(until);
  }

  /** The engine is rebuilt from what was written down, and told. */
  #startAgain(lost: number): void {
    const written = this.#journal.filter(({ at }) => at <= this.#now - lost);
    this.#state = createSession(this.world, this.setup.precedence);
    for (const input of written) step(this.world, this.#state, input);
    this.#journal = written;
    // A plan in the making dies with the program.
    this.#planning = this.#startPlanning(null);
    this.#feed({ at: this.#now, kind: 'started-again' });
  }

  #startPlanning(from: EngineState | null): RehearsedPlanning | null {
    const { layout, stock, timetable, planning } = this.setup;
    if (planning === undefined) return null;
    const own = compileWorld(layout, stock, timetable, this.world.layout);
    return new RehearsedPlanning(own, planning, from);
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
    if (this.#planning !== null && this.#planning.nextAt <= at) this.#plan(this.#planning, at);
  }

  #plan(planning: RehearsedPlanning, at: number): void {
    const plan = planning.look(this.world, this.state, at);
    if (plan !== null) this.#feed({ at, kind: 'plan', plan });
  }

  #feed(input: Input): StepResult {
    if (this.#restarts.length > 0) this.#journal.push(input);
    const result = step(this.world, this.state, input);
    for (const effect of result.effects) {
      if (effect.kind === 'device') this.simulated.command(this.#now, effect.command);
    }
    for (const observe of this.#observers) observe(this, input, result);
    return result;
  }
}
