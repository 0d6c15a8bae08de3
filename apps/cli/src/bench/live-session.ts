import { setTimeout as pause } from 'node:timers/promises';
import {
  compileWorld,
  createSession,
  lineUpRows,
  nextDeadline,
  step,
  type Command,
  type EngineState,
  type Input,
  type StepResult,
  type World,
} from '@blockbell/railway';
import type { RehearsalSetup } from '@blockbell/rehearsal';
import {
  DELTA_INTERVAL,
  Journal,
  openJournal,
  SessionRunner,
} from '@blockbell/server/session-parts';
import { FedSession } from './fed-session.js';
import { Obstacles } from './obstacles.js';
import { Pauses } from './pauses.js';
import { RecordingPort, type EdgeToStop } from './recording-port.js';

/** Wall-clock ms between obstacles. */
const OBSTACLE_INTERVAL = 500;
/** Wall-clock ms for which trains run before anything is measured. */
const SETTLING = 30_000;
const NAME = 'bench';

/** A session in real time, run as the server runs it, on a large layout, with its journal on disk and one board's deltas. */
export class LiveSession {
  readonly #world: World;
  readonly #state: EngineState;
  readonly #pauses = new Pauses();
  readonly #port: RecordingPort;
  readonly #runner: SessionRunner;
  readonly #fed: FedSession;
  readonly #journal: Journal;
  readonly #database: Awaited<ReturnType<typeof openJournal>>;
  #edges: EdgeToStop[] = [];
  #steps = { all: 0, searching: 0 };
  #worst: { readonly edge: EdgeToStop; what: string | null } | null = null;
  #failure: unknown = null;

  static async open(setup: RehearsalSetup, file: string): Promise<LiveSession> {
    return new LiveSession(setup, await openJournal(file));
  }

  private constructor(setup: RehearsalSetup, database: Awaited<ReturnType<typeof openJournal>>) {
    this.#database = database;
    const world = compileWorld(setup.layout, setup.stock, setup.timetable);
    this.#world = world;
    this.#state = createSession(world);
    this.#port = new RecordingPort(world, setup.seed, this.#pauses, (edge) => this.#note(edge));
    const failing = (why: string): void => {
      this.#failure = new Error(`The journal can’t be written: ${why}`);
    };
    this.#journal = new Journal(database.store, { failing, mended: () => {} }, database.session, 1);
    const now = (): number => this.#runner.now();
    this.#fed = new FedSession(world, this.#state, now, this.#journal);
    this.#runner = new SessionRunner(
      {
        step: (input) =>
          this.#pauses.during(`engine step (${kindOf(input)})`, () => this.#step(input)),
        nextDeadline: (after) => nextDeadline(this.#state, after),
      },
      this.#port,
      {
        stepped: (input, effects, changes) => {
          this.#port.causedBy(input.kind === 'device' ? input.event : null);
          this.#pauses.during('journal and feed', () => this.#fed.stepped(input, effects, changes));
        },
        failed: (error) => {
          this.#failure = error;
        },
      },
      () => performance.now(),
      0,
    );
  }

  /** Power, line-up, start; then some seconds until trains run. */
  async bringToRun(): Promise<void> {
    this.#port.begin();
    this.#runner.start();
    await this.#give({ kind: 'power-up' });
    while (this.#state.session.phase.kind !== 'running') {
      await pause(DELTA_INTERVAL);
      for (const { status, train, heading } of lineUpRows(this.#world, this.#state))
        if (status === 'ask') await this.#give({ kind: 'confirm-place', train, heading });
      await this.#give({ kind: 'start' });
    }
    await this.#runFor(SETTLING);
  }

  /** Edges and their stop commands within so many wall-clock ms. */
  async measure(duration: number): Promise<readonly EdgeToStop[]> {
    this.#edges = [];
    this.#worst = null;
    this.#steps = { all: 0, searching: 0 };
    this.#pauses.forget();
    await this.#runFor(duration);
    const edges = this.#edges;
    await pause(2 * DELTA_INTERVAL);
    this.#explainWorst();
    return edges;
  }

  searchText(): string {
    const { all, searching } = this.#steps;
    return `Of ${all} engine steps ${searching} searched.`;
  }

  /** What made the longest delay. */
  worstText(): string {
    if (this.#worst === null) return '';
    const { edge, what } = this.#worst;
    return (
      `The longest, ${delayOf(edge).toFixed(1)} ms, had in its way: ${what}. What kept the thread longest, of each kind: ` +
      `${this.#pauses.longest()}.`
    );
  }

  async close(): Promise<void> {
    await this.#runner.close();
    await this.#journal.close();
    await this.#database.close();
    this.#pauses.close();
  }

  async #runFor(duration: number): Promise<void> {
    const end = performance.now() + duration;
    const obstacles = new Obstacles(this.#world, this.#state, this.#port.simulated);
    let next = performance.now();
    while (performance.now() < end) {
      await pause(DELTA_INTERVAL);
      if (this.#failure !== null) throw this.#failure;
      this.#pauses.during('deltas', () => JSON.stringify(this.#fed.feed.takeDelta()));
      this.#explainWorst();
      await this.#letGoOn();
      if (performance.now() < next) continue;
      next += OBSTACLE_INTERVAL;
      obstacles.drop(this.#runner.now());
      // The layout has something to say sooner than the runner knew when it went to sleep.
      this.#runner.start();
    }
  }

  /** Trains that were stopped and stand by now, with nothing in their way any more. */
  async #letGoOn(): Promise<void> {
    for (const [train, { activity }] of this.#state.trains.entries())
      if (activity.kind === 'halted') await this.#give({ kind: 'release-train', train });
  }

  async #give(command: Command): Promise<void> {
    await this.#runner.give(NAME, command);
  }

  #step(input: Input): StepResult {
    const result = step(this.#world, this.#state, input);
    this.#steps.all++;
    if (result.expansions > 0) this.#steps.searching++;
    return result;
  }

  #note(edge: EdgeToStop): void {
    this.#edges.push(edge);
    if (this.#worst !== null && delayOf(this.#worst.edge) >= delayOf(edge)) return;
    this.#worst = { edge, what: null };
  }

  /** Collections of garbage tell of themselves a little later, so the explanation waits for them. */
  #explainWorst(): void {
    if (this.#worst === null || this.#worst.what !== null) return;
    const { due, stopped } = this.#worst.edge;
    if (performance.now() - stopped < DELTA_INTERVAL) return;
    this.#worst.what = this.#pauses.between(due, stopped);
  }
}

const delayOf = ({ due, stopped }: EdgeToStop): number => stopped - due;

const kindOf = (input: Input): string =>
  input.kind === 'device' ? input.event.kind : input.kind === 'deadline' ? 'clock tick' : 'command';
