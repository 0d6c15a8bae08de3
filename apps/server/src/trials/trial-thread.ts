import { parentPort } from 'node:worker_threads';
import { TrialWork, type ToTrier } from './trial-work.js';

const work = new TrialWork((message) => parentPort?.postMessage(message, []));

parentPort?.on('message', (message: ToTrier) => work.take(message));
