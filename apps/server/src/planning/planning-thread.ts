import { parentPort, workerData } from 'node:worker_threads';
import { PlanMaker, type Situation } from '@blockbell/planning';
import { compileWorld } from '@blockbell/railway';
import type { FromPlanner, PlannerStart } from './session-planner.js';

const { layout, stock, timetable } = workerData as PlannerStart;
const maker = new PlanMaker(compileWorld(layout, stock, timetable));

parentPort?.on('message', (situation: Situation) => {
  const answer: FromPlanner = { plan: maker.plan(situation) };
  parentPort?.postMessage(answer, []);
});
