import { parentPort } from 'node:worker_threads';
import { planFor, type ReturnAsked } from './plan-in-thread.js';

parentPort?.on('message', (asked: ReturnAsked) => parentPort?.postMessage(planFor(asked), []));
