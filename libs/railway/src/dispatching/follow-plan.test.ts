import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sentence } from '../session/explain.js';
import { Writer } from '../session/writer.js';
import { MirrorTraffic } from '../testing/mirror-traffic.js';
import type { SessionDriver } from '../testing/session-driver.js';
import { greedyShuttles } from '../testing/shuttle-line.js';
import { call } from '../testing/timetable-parts.js';
import { choose } from './choose.js';
import { PLAN_LASTS, planWait, STEP_LATENESS } from './follow-plan.js';
import type { DispatchPlan, PlanStep } from './plan.js';

/** The route from a block into another, by their ids. */
function routeOf(driver: SessionDriver, from: string, to: string): number {
  const found = driver.world.layout.routes.find(
    (route) =>
      route.from >> 1 === driver.elementIndex(from) && route.to >> 1 === driver.elementIndex(to),
  );
  if (found === undefined) throw new Error(`no route from ${from} to ${to}`);
  return found.index;
}

const step = (
  driver: SessionDriver,
  train: number,
  way: string,
  after: readonly number[] = [],
  at = driver.now,
): PlanStep => {
  const [from = '', to = ''] = way.split('>');
  return { train, leg: 0, route: routeOf(driver, from, to), at, after };
};

function feed(driver: SessionDriver, steps: readonly PlanStep[], made = driver.now): void {
  const { edition } = driver.state.added;
  const plan: DispatchPlan = { made, edition, steps, calls: [] };
  driver.feed({ at: driver.now, kind: 'plan', plan });
}

/** Two shuttles in West that both want to go; T0 comes first by everything but the plan. */
function twoWaiting(): SessionDriver {
  const driver = greedyShuttles([
    { from: 'W1', runs: 1, priority: 2 },
    { from: 'W2', runs: 1, priority: 7 },
  ]);
  driver.command({ kind: 'hold-departures', hold: true });
  return driver;
}

describe('a plan', () => {
  it('decides who goes first, and the other says so', () => {
    const driver = twoWaiting();
    driver.wait(60_000);
    feed(driver, [step(driver, 1, 'W2>L'), step(driver, 0, 'W1>L', [0])]);
    driver.command({ kind: 'hold-departures', hold: false });
    driver.wait(10);
    expect(driver.path('T1')).toContain('L');
    expect(driver.path('T0')).toEqual(['W1']);
    expect(driver.state.counts).toMatchObject({ asPlanned: 1, otherThanPlanned: 0 });
  });

  it('has nobody wait for a train that can’t come', () => {
    const driver = twoWaiting();
    driver.wait(60_000);
    driver.command({ kind: 'take-in-hand', train: 1, take: true });
    driver.command({ kind: 'hold-train', train: 1, hold: true });
    feed(driver, [step(driver, 1, 'W2>L'), step(driver, 0, 'W1>L', [0])]);
    driver.command({ kind: 'hold-departures', hold: false });
    driver.wait(10);
    expect(driver.path('T0')).toContain('L');
    expect(driver.path('T1')).toEqual(['W2']);
  });

  it('has a train wait for one that a person holds, which the plan has reckoned with, until its step is overdue', () => {
    const driver = twoWaiting();
    driver.wait(60_000);
    driver.command({ kind: 'hold-train', train: 1, hold: true });
    const at = driver.now + 15_000;
    feed(driver, [step(driver, 1, 'W2>L', [], at), step(driver, 0, 'W1>L', [0], at)]);
    const waitAt = (now: number) => planWait(new Writer(driver.world, driver.state, now, 0), 0);
    expect(waitAt(driver.now)).toEqual({ kind: 'plan-order', to: 1 });
    expect(waitAt(at + STEP_LATENESS - 1)).toEqual({ kind: 'plan-order', to: 1 });
    expect(waitAt(at + STEP_LATENESS)).toBeNull();
  });

  it('has nobody wait longer than the step waited for may be late, and says in words what is waited for', () => {
    const driver = twoWaiting();
    driver.wait(60_000);
    feed(driver, [step(driver, 1, 'W2>L'), step(driver, 0, 'W1>L', [0])]);
    const waitAt = (now: number) => planWait(new Writer(driver.world, driver.state, now, 0), 0);
    expect(waitAt(driver.now)).toEqual({ kind: 'plan-order', to: 1 });
    expect(waitAt(driver.now + STEP_LATENESS - 1)).toEqual({ kind: 'plan-order', to: 1 });
    expect(waitAt(driver.now + STEP_LATENESS)).toBeNull();
    expect(sentence(driver.world, { kind: 'plan-order', to: 1 })).toBe('T1 goes first by the plan');
  });

  it.each([
    ['the step waited for is overdue, however late its own', 0, STEP_LATENESS],
    ['the plan is followed no longer', PLAN_LASTS - 5000, PLAN_LASTS],
  ])('has a train that waits asked again when %s', (_, later, until) => {
    const driver = twoWaiting();
    driver.wait(60_000);
    const { now } = driver;
    feed(driver, [
      step(driver, 1, 'W2>L', [], now + later),
      step(driver, 0, 'W1>L', [0], now + PLAN_LASTS - 1000),
    ]);
    expect(choose(new Writer(driver.world, driver.state, now, 0), 0)).toEqual({
      kind: 'plan-order',
      to: 1,
    });
    const woken = driver.state.deadlines.find(
      ({ kind, subject }) => kind === 'plan' && subject === 0,
    );
    expect(woken?.at).toBe(now + until);
  });

  it('is dropped when all would stand and wait for its order', () => {
    const driver = twoWaiting();
    driver.wait(60_000);
    driver.command({ kind: 'close-track', element: driver.elementIndex('TW2'), reason: 'work' });
    feed(driver, [step(driver, 1, 'W2>L'), step(driver, 0, 'W1>L', [0])]);
    driver.command({ kind: 'hold-departures', hold: false });
    driver.wait(10);
    expect(driver.train('T1').wait).toMatchObject({ kind: 'possession' });
    expect(driver.path('T0')).toContain('L');
    expect(driver.state.dispatching.plan).toBeNull();
  });

  it('made before a service was added is not followed: its legs may be others', () => {
    const driver = twoWaiting();
    driver.wait(60_000);
    const plan: DispatchPlan = {
      made: driver.now,
      edition: 0,
      steps: [step(driver, 1, 'W2>L'), step(driver, 0, 'W1>L', [0])],
      calls: [],
    };
    const service = { name: 'Extra', calls: [call('West - -')] };
    expect(driver.command({ kind: 'add-service', train: 0, service, before: null })).toBeNull();
    driver.feed({ at: driver.now, kind: 'plan', plan });
    expect(driver.state.dispatching.plan).toBeNull();
    driver.feed({ at: driver.now, kind: 'plan', plan: { ...plan, edition: 1 } });
    expect(driver.state.dispatching.plan).not.toBeNull();
  });

  it('says nothing more of a train that a person sends another way', () => {
    const driver = twoWaiting();
    driver.wait(60_000);
    feed(driver, [step(driver, 0, 'W1>L')]);
    const block = driver.elementIndex('M');
    expect(driver.command({ kind: 'set-route', train: 0, block })).toBeNull();
    // Beyond the steps: it has left the plan.
    expect(driver.state.dispatching.plan!.next[0]).toBe(2);
  });

  it('is left when it is older than another, or too old', () => {
    const driver = twoWaiting();
    driver.wait(PLAN_LASTS);
    const first = [step(driver, 0, 'W1>L')];
    feed(driver, first, driver.now - PLAN_LASTS);
    expect(driver.state.dispatching.plan).toBeNull();
    feed(driver, first, driver.now - 10);
    feed(driver, [], driver.now - 20);
    expect(driver.state.dispatching.plan!.plan.steps).toHaveLength(1);
  });

  it('that names what is not there is set aside', () => {
    const driver = twoWaiting();
    for (const wrong of [
      { train: 9 },
      { route: 9999 },
      { leg: 99 },
      { leg: -1 },
      { leg: 0.5 },
      { at: Number.NaN },
      { after: [0] },
      { after: [7] },
    ])
      feed(driver, [{ ...step(driver, 0, 'W1>L'), ...wrong }]);
    feed(driver, [step(driver, 0, 'W1>L')], driver.now + 1);
    expect(driver.state.dispatching.plan).toBeNull();
    expect(driver.effects.filter(({ kind }) => kind === 'log').at(-1)).toMatchObject({
      text: expect.stringContaining('set aside') as string,
    });
  });

  it('is forgotten when the program is started again', () => {
    const driver = twoWaiting();
    feed(driver, [step(driver, 0, 'W1>L')]);
    driver.feed({ at: driver.now, kind: 'started-again' });
    expect(driver.state.dispatching.plan).toBeNull();
  });
});

/** A plan of so many steps drawn at random from all routes, in a random order, with random things to wait for. */
function wildPlan(driver: SessionDriver, numbers: readonly number[]): DispatchPlan {
  const { routes } = driver.world.layout;
  const trains = driver.state.trains.length;
  let at = 0;
  const draw = (below: number): number => numbers[at++ % numbers.length]! % below;
  const steps = Array.from({ length: 24 }, (_, place): PlanStep => ({
    train: draw(trains),
    leg: draw(3),
    route: draw(routes.length),
    at: driver.now + draw(60_000),
    after: Array.from({ length: place === 0 ? 0 : draw(3) }, () => draw(place)),
  }));
  return { made: driver.now, edition: 0, steps, calls: [] };
}

describe('whatever plans say', () => {
  it('all trains finish', () => {
    fc.assert(
      fc.property(
        fc.array(fc.nat(1_000_000), { minLength: 50, maxLength: 200 }),
        fc.integer({ min: 2, max: 4 }),
        (numbers, count) => {
          const places = ['W1', 'W2', 'E1', 'E2'].slice(0, count);
          const driver = greedyShuttles(places.map((from) => ({ from, runs: 2, priority: 3 })));
          const traffic = new MirrorTraffic(driver);
          let planned = 0;
          let shift = 0;
          traffic.runTo(1_800_000, () => {
            if (driver.now - planned < 20_000) return;
            planned = driver.now;
            shift += 7;
            const drawn = [...numbers.slice(shift % numbers.length), ...numbers];
            driver.feed({ at: driver.now, kind: 'plan', plan: wildPlan(driver, drawn) });
          });
          expect(driver.state.trains.map(({ wait }) => wait?.kind)).toEqual(
            places.map(() => 'finished'),
          );
        },
      ),
      { numRuns: 8, seed: 5 },
    );
  });
});
