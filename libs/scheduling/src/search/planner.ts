import { Engine } from '../engine/engine.js';
import { compileModel, type Model } from '../model/model.js';
import type { Plan, PlanEvent, Problem } from '../problem/problem.js';
import { planCost, verifyPlan } from '../problem/verify-plan.js';
import { Brancher } from './brancher.js';
import { Chance } from './chance.js';
import { Dive } from './dive.js';
import { LastPlan } from './last-plan.js';
import { Rounds } from './rounds.js';

export interface PlannerOptions {
  /** Seed of all chance; the same problem, seed, last plan and efforts give the same plans. */
  readonly seed?: number;
  /**
   * A plan to start from, perhaps of a problem that has changed since. When it is still valid, it is the first plan;
   * else the first plan keeps to its order and routes where that goes.
   */
  readonly lastPlan?: Plan;
  /**
   * Whether the first plan is looked for with conflicts in order of time at once, rather than first with who sets out first
   * going first everywhere: it takes longer and costs less.
   */
  readonly firstInTime?: boolean;
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
 * dropped between any two slices. Numbers must be whole, and times and costs add up to
 * less than `LARGEST_SUM` (`problem/horizon.ts`), as those of every problem that was read do.
 */
export class Planner {
  readonly #problem: Problem;
  readonly #model: Model;
  readonly #engine: Engine;
  readonly #brancher: Brancher;
  readonly #rounds: Rounds;
  #dive: Dive | null = null;
  #plan: Plan | null = null;
  #lastPlan: LastPlan | null = null;

  constructor(problem: Problem, options: PlannerOptions = {}) {
    this.#problem = problem;
    this.#model = compileModel(problem);
    this.#engine = new Engine(this.#model);
    this.#brancher = new Brancher(this.#model, this.#engine);
    this.#rounds = new Rounds(
      this.#model,
      this.#engine,
      new Chance(options.seed ?? 0),
      options.firstInTime ?? false,
    );
    if (options.lastPlan !== undefined) this.#startFrom(options.lastPlan);
  }

  get state(): PlanningState {
    const { exhausted, leastCost, effort } = this.#engine;
    const plan = this.#plan;
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
    const engine = this.#engine;
    const until = engine.effort + effort;
    while (!engine.exhausted && engine.effort < until) {
      this.#dive ??= new Dive(engine, this.#brancher, this.#rounds.next(this.#lastPlan));
      const end = this.#dive.run(until);
      if (end === 'paused') break;
      this.#rounds.ended(end);
      this.#dive = null;
      if (end === 'plan') {
        this.#takePlan();
        break;
      }
      engine.tidy();
    }
    return this.state;
  }

  #startFrom(plan: Plan): void {
    const last = new LastPlan(this.#model, plan);
    last.wish(this.#brancher.wish);
    const priced = { ...plan, objectiveValue: planCost(this.#problem, plan) };
    if (verifyPlan(this.#problem, priced).length > 0) return;
    this.#accept(priced);
  }

  #takePlan(): void {
    const { times, bounds } = this.#engine;
    const events: (PlanEvent & { readonly place: number })[] = [];
    this.#problem.trains.forEach((operations, train) => {
      operations.forEach((_, operation) => {
        const node = this.#model.firstNode[train]! + operation;
        if (!bounds.isTrue(times.presence[node]!)) return;
        const place = times.order.place[node]!;
        events.push({ time: times.earliest(node), train, operation, place });
      });
    });
    events.sort((a, b) => a.time - b.time || a.place - b.place);
    const plan = events.map(({ time, train, operation }) => ({ time, train, operation }));
    this.#accept({
      objectiveValue: planCost(this.#problem, { events: plan }),
      events: plan,
    });
  }

  #accept(plan: Plan): void {
    this.#plan = plan;
    this.#lastPlan = new LastPlan(this.#model, plan);
    this.#lastPlan.wish(this.#brancher.wish);
    this.#engine.limitCost(plan.objectiveValue - 1);
  }
}
