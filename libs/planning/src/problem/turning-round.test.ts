import type { ExampleName } from '@blockbell/examples';
import { compileWorld } from '@blockbell/railway';
import { passSeconds } from '@blockbell/rehearsal';
import { describe, expect, it } from 'vitest';
import { searchPlan } from '../plan/plan-maker.js';
import { readPlan } from '../plan/read-plan.js';
import { warmStart } from '../plan/warm-start.js';
import { lookAt } from '../situation/look.js';
import { filesOf, rehearsalOf } from '../testing/example-rehearsal.js';
import { buildProblem } from './build-problem.js';

const HOUR = 3_600_000;
/** By how much a locomotive within its spread, and the way in which it is brought to a stand, may be off; physical ms. */
const OFF = 5000;

/** A train's work alone on the railway: what a plan of all of it foretold, and what came; fast ms. */
function alone(name: ExampleName, train: string) {
  const files = filesOf(name);
  const storedPlaces = files[2].storedPlaces.filter((it) => it.train === train);
  files[2] = { ...files[2], storedPlaces, connections: [] };
  const rehearsal = rehearsalOf(files, 1);
  const seconds = passSeconds(rehearsal, Infinity);
  while (!rehearsal.state.session.clock.running) seconds.next();
  const { world } = rehearsal;
  const situation = lookAt(world, rehearsal.state, rehearsal.now);
  const own = compileWorld(...files);
  const planning = buildProblem(own, situation, 2 * HOUR);
  const found = searchPlan(planning, warmStart(planning, null, situation.now), 2_000_000)!;
  const plan = readPlan(own, situation, planning, found);
  const index = world.stock.trainByName.get(train)!;
  const { start, end, ratio } = world.timetable;
  while (rehearsal.now < (end - start) / ratio) seconds.next();
  return rehearsal.state.trains[index]!.calls.flatMap(({ service, call, arrived }) => {
    const told = plan.calls.find((it) => it.service === service && it.call === call)?.arrive;
    return arrived === null || told == null ? [] : [{ told, arrived, ratio }];
  });
}

describe('the forecast of a train that turns round', () => {
  it.each([
    ['passing-loop', 'T3'],
    ['passing-loop', 'T47'],
  ] as const)('counts the way from where its other end stands: %s, %s', (name, train) => {
    const arrivals = alone(name, train);
    expect(arrivals.length).toBeGreaterThan(3);
    for (const { told, arrived, ratio } of arrivals)
      expect(Math.abs(told - arrived) / ratio).toBeLessThan(OFF);
  });
});
