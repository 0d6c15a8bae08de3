import { parentPort } from 'node:worker_threads';
import { TimetableChecks, type ToChecker } from './timetable-checks.js';

const checks = new TimetableChecks();

parentPort?.on('message', (message: ToChecker) => {
  const answer = checks.take(message);
  if (answer !== null) parentPort?.postMessage(answer, []);
});
