import { createSession, type DispatchPlan, type EngineState } from '@blockbell/railway';
import { afterEach, expect, test } from 'vitest';
import { smallWorld } from '../testing/small-session.js';
import { SessionPlanner, type PlannedSession } from './session-planner.js';
import { exampleFiles } from '@blockbell/examples';
import { checkTogether } from '../files/check-files.js';

const checked = checkTogether(exampleFiles('passing-loop'));
if ('faults' in checked) throw new Error('the example has faults');
const { layout, stock, timetable } = checked.files;

const thread = (text: string): URL =>
  new URL(
    `data:text/javascript,${encodeURIComponent(
      `import { parentPort } from 'node:worker_threads'; parentPort.on('message', ${text});`,
    )}`,
  );
/** Plans nothing but the moment it was asked. */
const ANSWERING = thread(
  '({ now }) => parentPort.postMessage({ plan: { made: now, added: 0, steps: [], calls: [] } })',
);
const DYING = thread("() => { throw new Error('out of memory'); }");

/** A session that runs, as far as a planner sees it. */
class Planned implements PlannedSession {
  readonly world = smallWorld();
  readonly state: EngineState = createSession(this.world);
  readonly plans: DispatchPlan[] = [];
  readonly lost: string[] = [];
  time = 5000;

  now(): number {
    return this.time;
  }

  givePlan(plan: DispatchPlan): void {
    this.plans.push(plan);
  }

  withoutPlans(why: string): void {
    this.lost.push(why);
  }

  run(): void {
    this.state.session.phase = { kind: 'running' };
    this.state.session.clock.running = true;
  }
}

let planner: SessionPlanner | null = null;
afterEach(() => planner?.close());

test('plans are asked for while the session runs, and given to it', async () => {
  const session = new Planned();
  session.run();
  planner = new SessionPlanner({ layout, stock, timetable }, session, ANSWERING);
  await expect.poll(() => session.plans.length, { timeout: 10_000 }).toBe(1);
  expect(session.plans[0]).toMatchObject({ made: 5000 });
  session.time = 60_000;
  await expect.poll(() => session.plans.length, { timeout: 10_000 }).toBe(2);
  expect(session.lost).toEqual([]);
});

test('when its thread dies, the session is told once and goes on without plans', async () => {
  const session = new Planned();
  session.run();
  planner = new SessionPlanner({ layout, stock, timetable }, session, DYING);
  await expect.poll(() => session.lost, { timeout: 10_000 }).toEqual(['out of memory']);
  expect(session.plans).toEqual([]);
});
