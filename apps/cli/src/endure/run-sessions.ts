import { setImmediate as breathe } from 'node:timers/promises';
import { Worker } from 'node:worker_threads';
import {
  endureSession,
  type RailwayFiles,
  type SessionOutcome,
  type SessionRequest,
} from '@blockbell/rehearsal';

export interface Run {
  readonly requests: readonly SessionRequest[];
  readonly demo: RailwayFiles;
  /** Threads at work; with one, sessions run in this thread. */
  readonly workers: number;
  /** Called with each session that is done, in whatever order they are. */
  readonly tell: (outcome: SessionOutcome) => void;
  /** Breaks the run off. */
  readonly signal: AbortSignal;
}

/** Runs sessions; returns what those that came to their end came to, in the order of the requests. */
export async function runSessions(run: Run): Promise<SessionOutcome[]> {
  const outcomes = run.workers === 1 ? await runHere(run) : await runInThreads(run);
  return run.requests.flatMap((request) => outcomes.get(request) ?? []);
}

type Outcomes = Map<SessionRequest, SessionOutcome>;

async function runHere({ requests, demo, tell, signal }: Run): Promise<Outcomes> {
  const outcomes: Outcomes = new Map();
  for (const request of requests) {
    await breathe();
    if (signal.aborted) break;
    const outcome = endureSession(request, demo);
    outcomes.set(request, outcome);
    tell(outcome);
  }
  return outcomes;
}

/** Each thread gets the next request as soon as it is done with its last. */
async function runInThreads({ requests, demo, workers, tell, signal }: Run): Promise<Outcomes> {
  const outcomes: Outcomes = new Map();
  let next = 0;
  const work = async (): Promise<void> => {
    const thread = new Worker(new URL('./session-thread.js', import.meta.url), {
      workerData: demo,
    });
    const stop = (): void => void thread.terminate();
    signal.addEventListener('abort', stop, { once: true });
    try {
      for (let at = next++; at < requests.length && !signal.aborted; at = next++) {
        const outcome = await askThread(thread, requests[at]!);
        if (outcome === null) return;
        outcomes.set(requests[at]!, outcome);
        tell(outcome);
      }
    } finally {
      signal.removeEventListener('abort', stop);
      await thread.terminate();
    }
  };
  await Promise.all(Array.from({ length: Math.min(workers, requests.length) }, work));
  return outcomes;
}

/** One session in a thread; null when the thread is stopped before it has an answer. */
function askThread(thread: Worker, request: SessionRequest): Promise<SessionOutcome | null> {
  return new Promise((resolve, reject) => {
    const forget = (): void => {
      thread.removeAllListeners('message');
      thread.removeAllListeners('error');
      thread.removeAllListeners('exit');
    };
    thread.once('message', (outcome: SessionOutcome) => {
      forget();
      resolve(outcome);
    });
    thread.once('error', (error) => {
      forget();
      reject(error);
    });
    thread.once('exit', () => {
      forget();
      resolve(null);
    });
    thread.postMessage(request, []);
  });
}
