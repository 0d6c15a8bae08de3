import { describe, expect, it } from 'vitest';
import { verifyPlan } from '../problem/verify-plan.js';
import { following, headOn, straightTrain, sumOfEnds } from '../testing/problems.js';
import { randomProblem } from '../testing/random-problem.js';
import { oneAfterAnother } from './one-after-another.js';
import { Planner } from './planner.js';

describe('trains one after another', () => {
  it('go in the order in which they may set out, the second when the first is through', () => {
    const early = straightTrain([['r0', 10]]);
    const late = straightTrain([['r0', 5]], 0, { startLb: 2 });
    const plan = oneAfterAnother(sumOfEnds([late, early]))!;
    expect(plan.objectiveValue).toBe(10 + 15);
    expect(plan.events.filter(({ operation }) => operation === 0)).toEqual([
      { time: 0, train: 1, operation: 0 },
      { time: 10, train: 0, operation: 0 },
    ]);
  });

  it('are a plan before anything is searched', () => {
    const { plan, effort, status, bound } = new Planner(following).state;
    expect([plan?.objectiveValue, effort, status, bound]).toEqual([34, 0, 'searching', 0]);
  });

  it('are no plan where one stands in the way of the other', () => {
    expect(oneAfterAnother(headOn)).toBeNull();
  });

  it('keep all rules wherever they are a plan, which is often', () => {
    const problems = Array.from({ length: 300 }, (_, seed) => randomProblem(seed));
    const plans = problems.flatMap((problem) => {
      const plan = oneAfterAnother(problem);
      if (plan !== null) expect(verifyPlan(problem, plan)).toEqual([]);
      return plan ?? [];
    });
    expect(plans.length).toBeGreaterThan(30);
  });
});
