import { parentPort } from 'node:worker_threads';
import { RehearsalWork, type ToRehearser } from './rehearsal-work.js';

const work = new RehearsalWork((message) => parentPort?.postMessage(message, []));
parentPort?.on('message', (message: ToRehearser) => work.take(message));
