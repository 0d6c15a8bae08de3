import { here, inThread, type SideWorker } from '../side-thread.js';
import { TimetableChecks, type FromChecker, type ToChecker } from './timetable-checks.js';

/** Checks timetables beside what else the server does. */
export type Checker = SideWorker<ToChecker>;

/** Begins a checker; it answers, or says once that it answers no more. */
export type MakeChecker = (
  answer: (answer: FromChecker) => void,
  lost: (why: string) => void,
) => Checker;

/** Token of {@link MakeChecker} for injection. */
export const CHECKERS = Symbol('checkers');

/** A thread runs compiled code only: whoever runs the server from its sources checks where they are. */
const IS_COMPILED = import.meta.url.endsWith('.js');

export const checkersInThreads: MakeChecker = (answer, lost) => {
  if (IS_COMPILED) return inThread(new URL('./check-thread.js', import.meta.url), answer, lost);
  const checks = new TimetableChecks();
  return here((message) => checks.take(message), answer);
};
