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
  readonly plan: number;
  readonly result: SessionResult;
}

/**
 * Rehearses many sessions in worker threads. Gives by plan what those that came to their end came to, sorted by seed: the same
 * for any number of workers.
 */
export async function rehearseMany({
  plans,
  sessions,
  seed,
  workers = availableParallelism(),
  nice = 0,
  tell,
  signal,
}: ManyRehearsals): Promise<SessionResult[][]> {
  const tasks = Array.from({ length: sessions }, (_, index) =>
    plans.map((__, plan): RehearsalTask => ({ plan, seed: seed + index })),
  ).flat();
  const threads = Math.max(1, Math.min(workers, tasks.length));
  const runner = IS_COMPILED ? inThreads(plans, threads, nice, signal) : here(plans);
  const results: SessionResult[][] = plans.map(() => []);
  let done = 0;
  let next = 0;
  const isBrokenOff = (): boolean => signal?.aborted === true;
  // Each takes the next task when it is done with its last: what waits to be run takes no memory.
  const work = async (): Promise<void> => {
    for (let at = next++; at < tasks.length && !isBrokenOff(); at = next++) {
      const task = tasks[at]!;
      const result = await runner.run(task).catch((error: unknown) => {
        if (isBrokenOff()) return null;
        throw error;
      });
      if (result === null) return;
      results[task.plan]!.push(result);
      done++;
      tell?.({ done, of: tasks.length, plan: task.plan, result });
    }
  };
  try {
    await Promise.all(Array.from({ length: threads }, work));
  } finally {
    await runner.end();
  }
  return results.map((list) => list.sort((a, b) => a.seed - b.seed));
}

interface Runner {
  run(task: RehearsalTask): Promise<SessionResult>;
  end(): Promise<void>;
}

/** A thread runs compiled code only: whoever runs this from its sources rehearses where they are. */
const IS_COMPILED = import.meta.url.endsWith('.js');

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
