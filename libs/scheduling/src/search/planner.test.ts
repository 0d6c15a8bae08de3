import { describe, expect, it } from 'vitest';
import type { Plan, Problem } from '../problem/problem.js';
import { readJobShop } from '../problem/read-job-shop.js';
import { verifyPlan } from '../problem/verify-plan.js';
import { crossing, following, headOn, straightTrain, sumOfEnds } from '../testing/problems.js';
import { randomProblem } from '../testing/random-problem.js';
import { Planner, type PlannerOptions, type PlanningState } from './planner.js';

function settled(problem: Problem, options: PlannerOptions = {}): PlanningState {
  const planner = new Planner(problem, options);
  while (planner.state.status === 'searching') planner.continue(1000);
  return planner.state;
}

function expectOptimum(problem: Problem, cost: number): void {
  const { status, plan, bound, gap } = settled(problem);
  expect(status).toBe('optimal');
  expect(verifyPlan(problem, plan!)).toEqual([]);
  expect([plan!.objectiveValue, bound, gap]).toEqual([cost, cost, 0]);
}

/** A job shop of four jobs on five machines, too large for one small slice of effort. */
const jobShop = readJobShop(
  [
    '5 5',
    '0 4 1 7 2 3 3 9 4 5',
    '1 6 0 8 4 2 2 7 3 4',
    '2 5 3 4 0 6 1 3 4 8',
    '4 7 2 6 1 5 3 8 0 2',
    '3 3 4 9 2 4 0 7 1 6',
  ].join('\n'),
);
const jobs: Problem = jobShop.ok ? jobShop.value : { trains: [], objective: [] };

describe('the five cases that can be checked by hand', () => {
  it('two trains over r0 then r1 with release time 9: 10 + 24', () => {
    expectOptimum(following, 34);
  });

  it('two trains in opposite directions that start outside: 10 + 20', () => {
    expectOptimum(crossing, 30);
  });

  it('a chain of trains that hand over to each other at one moment: 15', () => {
    // B stands on r2 and C on r1, both ready to go; A over r0 before B would block all three.
    const chain = sumOfEnds(
      [
        straightTrain([
          ['', 0],
          ['r0', 5],
          ['r1', 5],
        ]),
        straightTrain(
          [
            ['r2', 0],
            ['r0', 5],
          ],
          0,
          { startUb: 0 },
        ),
        straightTrain(
          [
            ['r1', 0],
            ['r2', 5],
          ],
          0,
          { startUb: 0 },
        ),
      ],
      [0],
    );
    expectOptimum(chain, 15);
  });

  it('two trains that must both hold r0 at the same time: no plan', () => {
    const both = sumOfEnds([
      straightTrain([['r0', 5]], 0, { startUb: 0 }),
      straightTrain([['r0', 5]], 0, { startUb: 0 }),
    ]);
    expect(settled(both)).toMatchObject({ status: 'infeasible', plan: null, gap: null });
  });

  it('two trains head-on, each holding what the other wants: no plan', () => {
    expect(settled(headOn).status).toBe('infeasible');
  });
});

describe('what the planner is asked', () => {
  it('trains may not change places, not even three in a ring at one moment', () => {
    const ring = ['r0', 'r1', 'r2'].map((resource, i, all) =>
      straightTrain(
        [
          [resource, 5],
          [all[(i + 1) % all.length]!, 5],
        ],
        0,
        { startUb: 0 },
      ),
    );
    expect(settled(sumOfEnds(ring)).status).toBe('infeasible');
  });

  it('takes the route that costs less in the end', () => {
    const loop = [
      { startLb: 0, startUb: 0, minDuration: 0, resources: [], successors: [1, 2] },
      ...['main', 'loop'].map((resource, i) => ({
        startLb: 0,
        startUb: Infinity,
        minDuration: 5 + 2 * i,
        resources: [{ resource, releaseTime: 0 }],
        successors: [3],
      })),
      { startLb: 0, startUb: Infinity, minDuration: 0, resources: [], successors: [] },
    ];
    expectOptimum(sumOfEnds([loop, loop]), 5 + 7);
    expectOptimum(sumOfEnds([loop, loop, loop]), 5 + 7 + 10);
  });

  it('the same seed and slices give the same plans on the way', () => {
    const run = (): (Plan | null)[] => {
      const planner = new Planner(jobs, { seed: 7 });
      const plans: (Plan | null)[] = [];
      while (planner.state.status === 'searching') plans.push(planner.continue(500).plan);
      return plans;
    };
    expect(run()).toEqual(run());
  });

  it('whatever the slices and the seed, the optimum is the same', () => {
    const costs = [1, 50, 100_000].map((slice, seed) => {
      const planner = new Planner(jobs, { seed });
      while (planner.state.status === 'searching') planner.continue(slice);
      expect(verifyPlan(jobs, planner.state.plan!)).toEqual([]);
      return planner.state.plan!.objectiveValue;
    });
    expect(new Set(costs).size).toBe(1);
  });

  it('bound and plan close in on each other', () => {
    const planner = new Planner(jobs);
    let last = planner.state;
    while (last.status === 'searching') {
      const next = planner.continue(500);
      expect(next.bound).toBeGreaterThanOrEqual(last.bound);
      expect(next.effort).toBeGreaterThan(last.effort);
      if (last.plan !== null)
        expect(next.plan!.objectiveValue).toBeLessThanOrEqual(last.plan.objectiveValue);
      if (next.plan !== null) expect(next.bound).toBeLessThanOrEqual(next.plan.objectiveValue);
      last = next;
    }
    expect(last.gap).toBe(0);
  });

  it('an optimal last plan is only proven again', () => {
    const best = settled(jobs).plan!;
    const planner = new Planner(jobs, { lastPlan: best });
    expect(planner.state.plan).toEqual(best);
    expect(settled(jobs, { lastPlan: best }).plan).toEqual(best);
  });

  it('a last plan that no longer holds is kept to where that goes, and nothing is lost', () => {
    for (let seed = 0; seed < 60; seed++) {
      const problem = randomProblem(seed);
      const { plan } = settled(problem);
      if (plan === null) continue;
      const late: Problem = {
        ...problem,
        trains: problem.trains.map((train, t) =>
          t > 0 ? train : train.map((op, o) => (o > 0 ? op : { ...op, startLb: op.startLb + 3 })),
        ),
      };
      const cold = settled(late);
      const warm = settled(late, { lastPlan: plan });
      expect(warm.status).toBe(cold.status);
      expect(warm.plan?.objectiveValue).toBe(cold.plan?.objectiveValue);
    }
  });

  it('a last plan of another problem does no harm', () => {
    const events = [{ time: 0, train: 9, operation: 9 }, ...settled(following).plan!.events];
    const { plan } = settled(crossing, { lastPlan: { objectiveValue: 0, events } });
    expect(plan!.objectiveValue).toBe(30);
  });
});
