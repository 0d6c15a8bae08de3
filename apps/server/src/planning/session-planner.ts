import { Worker } from 'node:worker_threads';
import { PlanningDesk } from '@blockbell/planning';
import type {
  DispatchPlan,
  EngineState,
  LayoutFile,
  StockFile,
  TimetableFile,
  World,
} from '@blockbell/railway';

/** With what a planner begins; everything can be handed to another thread. */
export interface PlannerStart {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
}

export interface FromPlanner {
  /** Null: none was found within the work allowed. */
  readonly plan: DispatchPlan | null;
}

/** The session that is planned for. */
export interface PlannedSession {
  readonly world: World;
  readonly state: EngineState;
  /** Physical ms of the session now. */
  now(): number;
  /** Gives the engine a plan, in its turn with all else. */
  givePlan(plan: DispatchPlan): void;
  /** There are no more plans, and why. */
  withoutPlans(why: string): void;
}

/** How often it is looked whether a plan is due, wall-clock ms. */
const LOOK = 1000;

/**
 * Has a thread of its own make plans for a running session. The thread that runs trains only looks at where they are; the
 * plan comes back to it as an input. When the thread dies, the session goes on without plans.
 */
export class SessionPlanner {
  readonly #thread: Worker;
  readonly #timer: ReturnType<typeof setInterval>;
  readonly #desk = new PlanningDesk();
  #alive = true;
  /** Whether a plan is being made. */
  #busy = false;

  constructor(
    start: PlannerStart,
    private readonly session: PlannedSession,
    file = new URL('./planning-thread.js', import.meta.url),
  ) {
    this.#thread = new Worker(file, { workerData: start });
    this.#thread.unref();
    this.#thread.on('message', ({ plan }: FromPlanner) => {
      this.#busy = false;
      if (this.#alive && plan !== null) this.session.givePlan(plan);
    });
    this.#thread.on('error', (error) => this.#lost(error.message));
    this.#thread.on('exit', () => this.#lost('its thread ended'));
    this.#timer = setInterval(() => this.#look(), LOOK);
    this.#timer.unref();
  }

  async close(): Promise<void> {
    this.#alive = false;
    clearInterval(this.#timer);
    await this.#thread.terminate();
  }

  #look(): void {
    if (this.#busy || !this.#alive) return;
    const { world, state } = this.session;
    try {
      const situation = this.#desk.look(world, state, this.session.now());
      if (situation === null) return;
      this.#busy = true;
      this.#thread.postMessage(situation, []);
    } catch (error) {
      this.#lost(error instanceof Error ? error.message : String(error));
      void this.#thread.terminate();
    }
  }

  #lost(why: string): void {
    if (!this.#alive) return;
    this.#alive = false;
    clearInterval(this.#timer);
    this.session.withoutPlans(why);
  }
}
