import { Engine } from '../engine/engine.js';
import { compileModel, type Model } from '../model/model.js';
import type { Plan, PlanEvent, Problem } from '../problem/problem.js';
import { planCost } from '../problem/verify-plan.js';
import { Brancher } from './brancher.js';
import { Chance } from './chance.js';
import { Dive } from './dive.js';
import { LastPlan } from './last-plan.js';
import { Rounds } from './rounds.js';

/** The search for better and better plans of a problem: dives of one kind and another over its model. */
export class PlanSearch {
  readonly engine: Engine;
  readonly #model: Model;
  readonly #brancher: Brancher;
  readonly #rounds: Rounds;
  #dive: Dive | null = null;
  #lastPlan: LastPlan | null = null;

  constructor(
    private readonly problem: Problem,
    seed: number,
  ) {
    this.#model = compileModel(problem);
    this.engine = new Engine(this.#model);
    this.#brancher = new Brancher(this.#model, this.engine);
    this.#rounds = new Rounds(this.#model, this.engine, new Chance(seed));
  }

  /** Prefers the order and the routes of a plan, which need not be one of this very problem. */
  prefer(plan: Plan): LastPlan {
    const last = new LastPlan(this.#model, plan);
    last.wish(this.#brancher.wish);
    return last;
  }

  /** From now on only what costs less than this plan is looked for. */
  beat(plan: Plan): void {
    this.engine.limitCost(plan.objectiveValue - 1);
  }

  /** The same, beginning from this plan. */
  better(plan: Plan): void {
    this.#lastPlan = this.prefer(plan);
    this.beat(plan);
  }

  /** Goes on for about so much effort, less if nothing is left to find before; the better plan found, or null. */
  continue(effort: number): Plan | null {
    const { engine } = this;
    const until = engine.effort + effort;
    while (!engine.exhausted && engine.effort < until) {
      this.#dive ??= new Dive(engine, this.#brancher, this.#rounds.next(this.#lastPlan));
      const end = this.#dive.run(until);
      if (end === 'paused') break;
      this.#rounds.ended(end);
      this.#dive = null;
      if (end === 'plan') {
        const plan = this.#found();
        this.better(plan);
        return plan;
      }
      engine.tidy();
    }
    return null;
  }

  #found(): Plan {
    const { times, bounds } = this.engine;
    const found: (PlanEvent & { readonly place: number })[] = [];
    this.problem.trains.forEach((operations, train) => {
      operations.forEach((_, operation) => {
        const node = this.#model.firstNode[train]! + operation;
        if (!bounds.isTrue(times.presence[node]!)) return;
        const place = times.order.place[node]!;
        found.push({ time: times.earliest(node), train, operation, place });
      });
    });
    found.sort((a, b) => a.time - b.time || a.place - b.place);
    const events = found.map(({ time, train, operation }) => ({ time, train, operation }));
    return { objectiveValue: planCost(this.problem, { events }), events };
  }
}
