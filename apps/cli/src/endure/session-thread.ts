import { parentPort, workerData } from 'node:worker_threads';
import { endureSession, type RailwayFiles, type SessionRequest } from '@blockbell/rehearsal';

const demo = workerData as RailwayFiles;

parentPort!.on('message', (request: SessionRequest) => {
  parentPort!.postMessage(endureSession(request, demo), []);
});
