// How much of its time the thread that runs trains is at work while the built server works at something else. Run as a program it prints,
// as JSON, the share while the report of rehearsals is written, the names of what was written, and the share of a summary.
import { performance } from 'node:perf_hooks';
import { exampleFiles } from '@blockbell/examples';
import { runSession } from '@blockbell/rehearsal';
import { USUAL_DISTURBANCES } from '@blockbell/rehearsals';
import { rehearsersInThreads } from '../../apps/server/dist/rehearsals/rehearsers.js';
import { SummaryDesk } from '../../apps/server/dist/summaries/summary-desk.js';

function railway(name) {
  const { layout, stock, timetable } = exampleFiles(name);
  return {
    layout: JSON.parse(layout),
    stock: JSON.parse(stock),
    timetable: JSON.parse(timetable),
  };
}

async function shareAtWork(during) {
  const before = performance.eventLoopUtilization();
  await during;
  return performance.eventLoopUtilization(before).utilization;
}

/** Two ways, one session each; what is measured begins when both were run. */
async function reportRehearsals() {
  const plan = { ...railway('passing-loop'), disturbances: USUAL_DISTURBANCES };
  const plans = ['booked', 'priority'].map((dispatching) => ({ ...plan, dispatching }));
  const rehearsed = withResolvers();
  const reported = withResolvers();
  const lost = (why) => {
    rehearsed.reject(new Error(why));
    reported.reject(new Error(why));
  };
  const rehearser = rehearsersInThreads((message) => {
    if (message.kind === 'failed') lost(message.why);
    else if (message.kind === 'report') reported.resolve(message.report.texts);
    else if (message.done === plans.length) rehearsed.resolve();
  }, lost);
  rehearser.send({ kind: 'begin', asked: { plans, sessions: 1, seed: 1 } });
  await rehearsed.promise;
  const share = await shareAtWork(reported.promise);
  rehearser.close();
  return { share, texts: Object.keys(await reported.promise) };
}

function withResolvers() {
  const made = {};
  made.promise = new Promise((resolve, reject) => Object.assign(made, { resolve, reject }));
  return made;
}

async function summarise() {
  const files = railway('passing-loop');
  const inputs = [];
  const session = runSession({ ...files, seed: 1 }, (_, input) => inputs.push(input));
  while (!session.next().done);
  const batch = { batch: 0, inputs: JSON.stringify(inputs), chain: '' };
  const asked = { ...files, openings: [{ run: 1, takenUpTo: -1, batches: [batch] }] };
  const summarised = new SummaryDesk().summarise(() => Promise.resolve(asked));
  const share = await shareAtWork(summarised);
  const { summary } = await summarised;
  return { share, run: summary.services.filter(({ run }) => run).length };
}

// A thread that nobody waits for does not keep the program alive.
const alive = setInterval(() => {}, 1000);
const rehearsals = await reportRehearsals();
const summary = await summarise();
clearInterval(alive);
console.log(JSON.stringify({ rehearsals, summary }));
