import { parentPort } from 'node:worker_threads';
import { Planner } from '@blockbell/scheduling';
import type { PlanningReport, PlanningRequest } from './messages.js';

/** Effort between two looks at the messages; some milliseconds. */
const SLICE = 20_000;

/** Raised by every request, so that what was under way before it stops. */
let request = 0;

parentPort!.on('message', (message: PlanningRequest) => {
  request++;
  if (message.type === 'plan') plan(message, request);
});

function plan({ problem, options }: Extract<PlanningRequest, { type: 'plan' }>, own: number): void {
  const planner = new Planner(problem, options);
  let told = planner.state.plan;
  const tell = (ended: boolean): void => {
    told = planner.state.plan;
    const report: PlanningReport = {
      state: planner.state,
      ended,
    };
    parentPort!.postMessage(report, []);
  };
  if (told !== null) tell(false);
  const goOn = (): void => {
    if (request !== own) return tell(true);
    const { status, plan } = planner.continue(SLICE);
    if (status !== 'searching') return tell(true);
    if (plan !== told) tell(false);
    setImmediate(goOn);
  };
  goOn();
}
