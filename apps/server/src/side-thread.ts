import { Worker } from 'node:worker_threads';

/** Works beside what else the server does: in a thread, or where it is. */
export interface SideWorker<To> {
  send(message: To): void;
  close(): void;
}

/** A thread that fails tells of an error and then of its end: only the first counts, and nothing once it was closed. */
export function inThread<To, From>(
  file: URL,
  answer: (answer: From) => void,
  lost: (why: string) => void,
): SideWorker<To> {
  const thread = new Worker(file);
  let isAlive = true;
  const end = (why: string): void => {
    if (!isAlive) return;
    isAlive = false;
    lost(why);
  };
  thread.unref();
  thread.on('message', (message: From) => {
    if (isAlive) answer(message);
  });
  thread.on('error', (error) => end(error instanceof Error ? error.message : String(error)));
  thread.on('exit', () => end('its thread ended'));
  return {
    send: (message) => thread.postMessage(message, []),
    close: () => {
      isAlive = false;
      void thread.terminate();
    },
  };
}

/** The same without a thread, for a server that runs from its sources: a thread runs compiled code only. */
export function here<To, From>(
  take: (message: To) => From | null,
  answer: (answer: From) => void,
): SideWorker<To> {
  return {
    send: (message) => {
      const found = take(message);
      if (found !== null) answer(found);
    },
    close: () => {},
  };
}

/** Real ms after which one piece of work is given up. */
const LONGEST = 60_000;

/**
 * One piece of work in a thread of its own, that the one that runs trains is not held up; rejects with the reason.
 * @param thread null: where it is
 */
export function once<To, From>(
  thread: URL | null,
  take: (message: To) => From,
  asked: To,
): Promise<From> {
  let worker: SideWorker<To> | null = null;
  let late: ReturnType<typeof setTimeout> | undefined;
  return new Promise<From>((answer, refuse) => {
    const lost = (why: string): void => refuse(new Error(why));
    late = setTimeout(() => lost('it took more than a minute'), LONGEST);
    worker = thread === null ? here(take, answer) : inThread(thread, answer, lost);
    worker.send(asked);
  }).finally(() => {
    clearTimeout(late);
    worker?.close();
  });
}
