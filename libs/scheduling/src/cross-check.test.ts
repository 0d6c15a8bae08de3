import { createRequire } from 'node:module';
import type { Highs } from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Problem } from './problem/problem.js';
import { verifyPlan } from './problem/verify-plan.js';
import { Planner } from './search/planner.js';
import { milpText } from './testing/milp.js';
import { randomProblem } from './testing/random-problem.js';

/** Number of problems; `npm run cross-check:scheduling` asks for thousands. */
const CASES = Number(process.env['BLOCKBELL_SCHEDULING_CASES'] ?? 200);
const BATCH = 40;

// The package's types describe its CommonJS form.
const loadHighs = createRequire(import.meta.url)('highs') as () => Promise<Highs>;
let highs: Highs;

beforeAll(async () => {
  highs = await loadHighs();
});

/** Cost of the best plan as the independent solver finds it; null when there is none. */
function independentOptimum(problem: Problem): number | null {
  const solution = highs.solve(milpText(problem), {
    mip_rel_gap: 0,
    mip_abs_gap: 0,
    mip_heuristic_effort: 0,
  });
  if (solution.Status === 'Infeasible') return null;
  expect(solution.Status).toBe('Optimal');
  return Math.round(solution.ObjectiveValue);
}

function ownOptimum(problem: Problem, seed: number): number | null {
  const planner = new Planner(problem, { seed });
  let state = planner.state;
  while (state.status === 'searching') state = planner.continue(10_000);
  if (state.plan === null) return null;
  expect(verifyPlan(problem, state.plan)).toEqual([]);
  expect(state.bound).toBe(state.plan.objectiveValue);
  return state.plan.objectiveValue;
}

describe('small random problems have the optimum an independent MILP solver finds', () => {
  const batches = Array.from({ length: Math.ceil(CASES / BATCH) }, (_, i) => i * BATCH);

  it.each(batches)('seeds from %i', { timeout: 240_000 }, (first) => {
    const seeds = Array.from({ length: Math.min(BATCH, CASES - first) }, (_, i) => first + i);
    const own = seeds.map((seed) => [seed, ownOptimum(randomProblem(seed), seed)]);
    const independent = seeds.map((seed) => [seed, independentOptimum(randomProblem(seed))]);
    expect(own).toEqual(independent);
  });

  it('and are worth solving: some have no plan, some a plan that costs', () => {
    const costs = Array.from({ length: 200 }, (_, seed) => ownOptimum(randomProblem(seed), seed));
    const without = costs.filter((cost) => cost === null).length;
    const costly = costs.filter((cost) => cost !== null && cost > 0).length;
    expect(without).toBeGreaterThan(5);
    expect(costly).toBeGreaterThan(100);
  });
});
