import { parentPort, workerData } from 'node:worker_threads';
import { JournalFollower, type FollowerStart, type ToFollower } from './journal-follower.js';

const follower = new JournalFollower(workerData as FollowerStart);

parentPort?.on('message', (message: ToFollower) => {
  const answer = follower.take(message);
  if (answer !== null) parentPort?.postMessage(answer, []);
});
