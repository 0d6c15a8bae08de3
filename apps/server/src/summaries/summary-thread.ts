import { parentPort } from 'node:worker_threads';
import { summarise, type SummaryAsked } from './summarise.js';

parentPort?.on('message', (asked: SummaryAsked) => parentPort?.postMessage(summarise(asked), []));
