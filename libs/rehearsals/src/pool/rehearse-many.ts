import { availableParallelism } from 'node:os';
import { setImmediate as breathe } from 'node:timers/promises';
import { compileLayout } from '@blockbell/railway';
import { Piscina } from 'piscina';
import { rehearseOnce, type RehearsalPlan } from '../session/rehearse-once.js';
import type { SessionResult } from '../session/session-result.js';
import type { RehearsalTask } from './rehearse-task.js';

export interface ManyRehearsals {
  /** One, or two to be compared: each seed is run with every plan. */
  readonly plans: readonly RehearsalPlan[];
  readonly sessions: number;
  /** The first seed; the others follow it. */
  readonly seed: number;
  /** Threads at work; as many as there are processors if left out. */
  readonly workers?: number;
  /** How far the threads stand back for others: 0 not at all, 19 the furthest; where the system knows no such thing, nothing. */
  readonly nice?: number;
  /** Called with each session that is done, in whatever order they are. */
  readonly tell?: (progress: ManyProgress) => void;
  /** Breaks the run off; what was run until then is kept. */
  readonly signal?: AbortSignal;
}

export interface ManyProgress {
  /** Sessions that are done, of all. */
  readonly done: number;
  readonly of: number;
}

/** A session that could not be rehearsed to its end: the program failed in it. */
export interface FailedSession {
  readonly plan: number;
  readonly seed: number;
  readonly why: string;
}

export interface ManyResults {
  /** By plan, sorted by seed. */
  readonly results: readonly (readonly SessionResult[])[];
  readonly failed: readonly FailedSession[];
}

/**
 * Rehearses many sessions in worker threads. Gives by plan what those that came to their end came to: the same for any number of
 * workers. One that fails does not take the others along.
 */
export async function rehearseMany({
  plans,
  sessions,
  seed,
  workers = availableParallelism(),
  nice = 0,
  tell,
  signal,
}: ManyRehearsals): Promise<ManyResults> {
  const of = sessions * plans.length;
  const taskAt = (at: number): RehearsalTask => ({
    plan: at % plans.length,
    seed: seed + Math.floor(at / plans.length),
  });
  const threads = Math.max(1, Math.min(workers, of));
  const runner = IS_COMPILED ? inThreads(plans, threads, nice, signal) : here(plans);
  const results: SessionResult[][] = plans.map(() => []);
  const failed: FailedSession[] = [];
  let done = 0;
  let next = 0;
  const isBrokenOff = (): boolean => signal?.aborted === true;
  // Each takes the next task when it is done with its last: what waits to be run takes no memory.
  const work = async (): Promise<void> => {
    for (let at = next++; at < of && !isBrokenOff(); at = next++) {
      const task = taskAt(at);
      try {
        results[task.plan]!.push(await runner.run(task));
      } catch (error) {
        if (isBrokenOff()) return;
        failed.push({ ...task, why: error instanceof Error ? error.message : String(error) });
      }
      done++;
      tell?.({ done, of });
    }
  };
  try {
    await Promise.all(Array.from({ length: threads }, work));
  } finally {
    await runner.end();
  }
  const bySeed = (a: { seed: number }, b: { seed: number }): number => a.seed - b.seed;
  return { results: results.map((list) => list.sort(bySeed)), failed: failed.sort(bySeed) };
}

interface Runner {
  run(task: RehearsalTask): Promise<SessionResult>;
  end(): Promise<void>;
}

/** A thread runs compiled code only: whoever runs this from its sources rehearses where they are. */
const IS_COMPILED = import.meta.url.endsWith('.js');

/** Memory of each thread for what is new, MB; by itself it is 48 (from memory). What a plan was made with is mostly gone before it is looked through. */
const YOUNG = 96;

function inThreads(
  plans: readonly RehearsalPlan[],
  threads: number,
  nice: number,
  signal: AbortSignal | undefined,
): Runner {
  const pool = new Piscina<RehearsalTask, SessionResult>({
    filename: new URL('./rehearse-task.js', import.meta.url).href,
    workerData: { plans },
    minThreads: threads,
    maxThreads: threads,
    niceIncrement: nice,
    resourceLimits: { maxYoungGenerationSizeMb: YOUNG },
  });
  const options = signal === undefined ? {} : { signal };
  return { run: (task) => pool.run(task, options), end: () => pool.destroy() };
}

function here(plans: readonly RehearsalPlan[]): Runner {
  const layouts = plans.map(({ layout }) => compileLayout(layout));
  return {
    run: async ({ plan, seed }) => {
      await breathe();
      return rehearseOnce(plans[plan]!, seed, layouts[plan]);
    },
    end: () => Promise.resolve(),
  };
}
