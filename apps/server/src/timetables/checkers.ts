import { Worker } from 'node:worker_threads';
import { TimetableChecks, type FromChecker, type ToChecker } from './timetable-checks.js';

/** Checks timetables beside what else the server does. */
export interface Checker {
  send(message: ToChecker): void;
  close(): void;
}

/** Begins a checker; it answers, or says once that it answers no more. */
export type MakeChecker = (
  answer: (answer: FromChecker) => void,
  lost: (why: string) => void,
) => Checker;

/** Token of {@link MakeChecker} for injection. */
export const CHECKERS = Symbol('checkers');

/** A thread runs compiled code only: whoever runs the server from its sources checks where they are. */
const IS_COMPILED = import.meta.url.endsWith('.js');

export const checkersInThreads: MakeChecker = (answer, lost) =>
  IS_COMPILED ? inThread(answer, lost) : here(answer);

/** A thread that fails tells of an error and then of its end: only the first counts, and nothing once it was closed. */
export function inThread(
  answer: (answer: FromChecker) => void,
  lost: (why: string) => void,
  file = new URL('./check-thread.js', import.meta.url),
): Checker {
  const thread = new Worker(file);
  let isAlive = true;
  const end = (why: string): void => {
    if (!isAlive) return;
    isAlive = false;
    lost(why);
  };
  thread.unref();
  thread.on('message', (message: FromChecker) => {
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

function here(answer: (answer: FromChecker) => void): Checker {
  const checks = new TimetableChecks();
  return {
    send: (message) => {
      const found = checks.take(message);
      if (found !== null) answer(found);
    },
    close: () => {},
  };
}
