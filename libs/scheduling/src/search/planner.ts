import type { Plan, Problem } from '../problem/problem.js';
import { planCost, verifyPlan } from '../problem/verify-plan.js';
import { oneAfterAnother } from './one-after-another.js';
import { PlanSearch } from './plan-search.js';

export interface PlannerOptions {
  /** Seed of all chance; the same problem, seed, last plan and efforts give the same plans. */
  readonly seed?: number;
  /**
   * A plan to start from, perhaps of a problem that has changed since. When it is still valid, it is the first plan;
   * else the first plan keeps to its order and routes where that goes.
   */
  readonly lastPlan?: Plan;
}

export interface PlanningState {
  readonly status: 'searching' | 'optimal' | 'infeasible';
  /** Best plan so far. */
  readonly plan: Plan | null;
  /** No plan costs less than this. */
  readonly bound: number;
  /** How much of the plan's cost might be saved at most, from 0 (none) to 1; null without a plan. */
  readonly gap: number | null;
  /** Work done so far, counted in looks at a dependency or clause. */
  readonly effort: number;
}

/**
 * Looks for the cheapest plan of a problem, a slice of effort at a time, and can be asked for the best so far or be
 * dropped between any two slices. Without a last plan, and where trains can go one after another, there is a plan from the
 * beginning. Numbers must be whole, and times and costs add up to
 * less than `LARGEST_SUM` (`problem/horizon.ts`), as those of every problem that was read do.
 */
export class Planner {
  readonly #problem: Problem;
  readonly #options: PlannerOptions;
  #plan: Plan | null;
  /** Made when it is first gone on with, so that a first plan need not wait for it. */
  #search: PlanSearch | null = null;

  constructor(problem: Problem, options: PlannerOptions = {}) {
    this.#problem = problem;
    this.#options = options;
    this.#plan = firstPlan(problem, options);
  }

  get state(): PlanningState {
    const plan = this.#plan;
    const { exhausted, leastCost, effort } = this.#search?.engine ?? NOT_SEARCHED;
    if (plan === null)
      return {
        status: exhausted ? 'infeasible' : 'searching',
        plan,
        bound: leastCost,
        gap: null,
        effort,
      };
    const cost = plan.objectiveValue;
    const bound = exhausted ? cost : Math.min(cost, leastCost);
    return {
      status: exhausted ? 'optimal' : 'searching',
      plan,
      bound,
      gap: cost === 0 ? 0 : (cost - bound) / cost,
      effort,
    };
  }

  /** Goes on for about so much effort, less if it is settled before, or if a better plan has been found. */
  continue(effort: number): PlanningState {
    this.#search ??= this.#begin();
    this.#plan = this.#search.continue(effort) ?? this.#plan;
    return this.state;
  }

  #begin(): PlanSearch {
    const { seed = 0, lastPlan } = this.#options;
    const search = new PlanSearch(this.#problem, seed);
    if (lastPlan === undefined) {
      if (this.#plan !== null) search.beat(this.#plan);
    } else if (this.#plan === null) search.prefer(lastPlan);
    else search.better(this.#plan);
    return search;
  }
}

/** What is known before any search: no plan costs less than nothing. */
const NOT_SEARCHED = { exhausted: false, leastCost: 0, effort: 0 };

/** The plan there is without a search, if any: the last one where it still holds, or trains one after another. */
function firstPlan(problem: Problem, { lastPlan }: PlannerOptions): Plan | null {
  if (lastPlan === undefined) return oneAfterAnother(problem);
  const priced = { ...lastPlan, objectiveValue: planCost(problem, lastPlan) };
  return verifyPlan(problem, priced).length > 0 ? null : priced;
}
