import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MirrorTraffic } from '../testing/mirror-traffic.js';
import type { SessionDriver } from '../testing/session-driver.js';
import { runningCrossing } from '../testing/session-settings.js';
import { greedyShuttles, type Shuttle } from '../testing/shuttle-line.js';
import { explainWait } from '../waiting/wait-chain.js';
import { sentence } from '../session/explain.js';
import { Writer } from '../session/writer.js';
import { choose } from './choose.js';
import { adoptOrder } from './order.js';
import { proveState } from './prove.js';
import { beginSearch } from './safety-search.js';

const finished = (driver: SessionDriver): boolean =>
  driver.state.trains.every(({ wait }) => wait?.kind === 'finished');

describe('dispatching', () => {
  it('sends two trains past each other over the loop’s two tracks', () => {
    const driver = runningCrossing();
    const traffic = new MirrorTraffic(driver);
    traffic.runTo(90_000);
    expect([...driver.path('P'), ...driver.path('G')]).toEqual(expect.arrayContaining(['M', 'S']));
    traffic.runTo(400_000);
    expect(driver.path('P')).toEqual(['E']);
    expect(driver.path('G')).toEqual(['W']);
    expect(finished(driver)).toBe(true);
  });

  it('asks first who is booked first, then who has priority', () => {
    const driver = greedyShuttles([
      { from: 'W1', runs: 1, priority: 7 },
      { from: 'W2', runs: 1, priority: 2 },
    ]);
    while (driver.path('T1').length === 1) driver.wait(10);
    expect(driver.path('T0')).toEqual(['W1']);
    expect(driver.train('T0').wait).toMatchObject({ kind: 'element-held', by: 1 });
    expect(explainWait(driver.world, driver.state, 0)).toEqual([
      'T0 waits: TW1 on its way is held for T1.',
      'T1 waits: TW2 is being set.',
    ]);
  });

  it('takes another track when the first is held', () => {
    const driver = greedyShuttles([
      { from: 'W1', runs: 1, priority: 2 },
      { from: 'E1', runs: 1, priority: 2 },
    ]);
    new MirrorTraffic(driver).runTo(300_000);
    expect(finished(driver)).toBe(true);
    expect(driver.path('T0')[0]).toMatch(/^E/);
    expect(driver.path('T1')[0]).toMatch(/^W/);
  });

  it('refuses what would lock the line, and says so', () => {
    const driver = greedyShuttles([
      { from: 'W1', runs: 1, priority: 2 },
      { from: 'W2', runs: 1, priority: 3 },
      { from: 'W3', runs: 1, priority: 4 },
      { from: 'E1', runs: 1, priority: 2 },
      { from: 'E2', runs: 1, priority: 3 },
      { from: 'E3', runs: 1, priority: 4 },
    ]);
    const reasons = new Set<string>();
    new MirrorTraffic(driver).runTo(900_000, () => {
      for (const { wait } of driver.state.trains) if (wait !== null) reasons.add(wait.kind);
    });
    expect(reasons).toContain('would-lock');
    expect(driver.state.counts.refusedDoomed).toBeGreaterThan(0);
    expect(driver.state.trains.map(({ wait }) => wait?.kind)).toEqual(Array(6).fill('finished'));
  });

  it('drops a search whose train does not ask any more', () => {
    const driver = greedyShuttles([
      { from: 'W1', runs: 1, priority: 2 },
      { from: 'W2', runs: 1, priority: 2 },
    ]);
    const { dispatching, trains } = driver.state;
    const nodes = trains.map(({ node }) => node);
    const to = driver.world.graphs[0]!.moves(nodes[0]!)[0]!.to;
    dispatching.search = beginSearch(driver.world.safety, nodes, []);
    dispatching.searchFor = { train: 0, to };
    driver.command({ kind: 'hold-train', train: 0, hold: true });
    expect(driver.state.dispatching).toMatchObject({ search: null, searchFor: null });
    expect(driver.train('T0').wait).toEqual({ kind: 'held-by-person' });
  });

  it('has a train wait, and says why, when the steps allowed did not tell whether its move is safe', () => {
    const { driver, to, wait } = outOfSteps();
    expect(wait).toEqual({ kind: 'search-exhausted' });
    expect(sentence(driver.world, wait!)).toBe(
      'whether it may go safely could not be worked out within the steps allowed',
    );
    const { dispatching, counts } = driver.state;
    expect(counts.refusedExhausted).toBe(1);
    expect(dispatching).toMatchObject({ search: null, findings: { [`0:${to}`]: 'exhausted' } });
  });

  it('spends no more steps on a move that they did not suffice for, until a train’s place has changed', () => {
    const { driver, to } = outOfSteps();
    const again = new Writer(driver.world, driver.state, driver.now, 100);
    choose(again, 0);
    expect(again.expansions).toBe(0);
    adoptOrder(again, driver.state.dispatching.order);
    expect(driver.state.dispatching.findings[`0:${to}`]).toBeUndefined();
  });

  it.each([
    ['there is none', 'doomed', 'there is no order in which all of them finish'],
    [
      'the steps allowed did not suffice',
      'exhausted',
      'no order in which all of them finish was found within the steps allowed',
    ],
  ] as const)('lets nobody go without an order, and says so where %s', (_, outcome, text) => {
    const driver = twoShuttles();
    const { dispatching, trains } = driver.state;
    const nodes = trains.map(({ node }) => node);
    Object.assign(dispatching, { proven: false, order: [] });
    dispatching.search = { ...beginSearch(driver.world.safety, nodes, []), outcome };
    driver.command({ kind: 'hold-departures', hold: false });
    driver.wait(1000);
    expect(driver.alarms().join()).toContain(text);
    expect([driver.path('T0'), driver.path('T1')]).toEqual([['W1'], ['W2']]);
  });

  it('comes to the same end when its search is cut into slices', () => {
    const whole = searched(100_000);
    const sliced = searched(1);
    expect(whole.steps).toBe(1);
    expect(sliced.steps).toBeGreaterThan(10);
    expect(sliced.outcome).toEqual(whole.outcome);
  });
});

/** Two shuttles that want to go, kept. */
function twoShuttles(): SessionDriver {
  const driver = greedyShuttles([
    { from: 'W1', runs: 1, priority: 2 },
    { from: 'W2', runs: 1, priority: 2 },
  ]);
  driver.command({ kind: 'hold-departures', hold: true });
  driver.wait(60_000);
  return driver;
}

/** T0 asks for its only move; the last proven order is silent about it, and no step of search is left. */
function outOfSteps() {
  const driver = twoShuttles();
  const { dispatching, trains } = driver.state;
  const nodes = trains.map(({ node }) => node);
  const { to } = driver.world.graphs[0]!.moves(nodes[0]!)[0]!;
  dispatching.findings[`0:${to}`] = 'beyond-order';
  dispatching.search = beginSearch(driver.world.safety, nodes.with(0, to), [], 0);
  dispatching.searchFor = { train: 0, to };
  const wait = choose(new Writer(driver.world, driver.state, driver.now, 100), 0);
  return { driver, to, wait };
}

/** Six shuttles about to start; an order is looked for with so many expansions a step. */
function searched(slice: number): { steps: number; outcome: unknown } {
  const driver = greedyShuttles(
    ['W1', 'W2', 'W3', 'E1', 'E2'].map((from) => ({ from, runs: 3, priority: 2 })),
  );
  const { dispatching } = driver.state;
  dispatching.proven = false;
  dispatching.order = [];
  let steps = 0;
  let outcome = 'searching';
  while (outcome === 'searching') {
    outcome = proveState(new Writer(driver.world, driver.state, driver.now, slice));
    steps++;
  }
  return { steps, outcome: { outcome, order: dispatching.order, proven: dispatching.proven } };
}

/** Longest that a train may be kept by others, ms: its patience and what its turn then needs, whatever that may be here. */
const LONGEST = 360_000;

const shuttles: fc.Arbitrary<Shuttle[]> = fc
  .tuple(
    fc.uniqueArray(fc.constantFrom('W1', 'W2', 'W3', 'E1', 'E2', 'E3'), {
      minLength: 2,
      maxLength: 5,
    }),
    fc.array(fc.nat(9), { minLength: 5, maxLength: 5 }),
    fc.array(fc.integer({ min: 1, max: 6 }), { minLength: 5, maxLength: 5 }),
  )
  .map(([places, priorities, runs]) =>
    places.map((from, index) => ({ from, runs: runs[index]!, priority: priorities[index]! })),
  );

const IN_VAIN = [
  'element-held',
  'section-claimed',
  'section-occupied',
  'would-lock',
  'gives-way',
  'search-exhausted',
];

describe('greedy traffic', () => {
  it('never makes a train wait for ever while others pass', () => {
    fc.assert(
      fc.property(shuttles, (wishes) => {
        const driver = greedyShuttles(wishes);
        const traffic = new MirrorTraffic(driver);
        const since = wishes.map(() => 0);
        let longest = 0;
        traffic.runTo(3_600_000, () => {
          driver.state.trains.forEach(({ wait }, index) => {
            if (!IN_VAIN.includes(wait?.kind ?? '')) since[index] = driver.now;
            longest = Math.max(longest, driver.now - since[index]!);
          });
        });
        expect(driver.state.trains.map(({ wait }) => wait?.kind)).toEqual(
          wishes.map(() => 'finished'),
        );
        expect(longest).toBeLessThan(LONGEST);
      }),
      { numRuns: 8, seed: 3 },
    );
  });
});
