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

function inThread(answer: (answer: FromChecker) => void, lost: (why: string) => void): Checker {
  const thread = new Worker(new URL('./check-thread.js', import.meta.url));
  thread.unref();
  thread.on('message', answer);
  thread.on('error', (error) => lost(error instanceof Error ? error.message : String(error)));
  thread.on('exit', () => lost('its thread ended'));
  return {
    send: (message) => thread.postMessage(message, []),
    close: () => void thread.terminate(),
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
