import { parentPort } from 'node:worker_threads';
import { WhatIfs, type ToForeteller } from './what-ifs.js';

const whatIfs = new WhatIfs();

parentPort?.on('message', (message: ToForeteller) => {
  const answer = whatIfs.take(message);
  if (answer !== null) parentPort?.postMessage(answer, []);
});
