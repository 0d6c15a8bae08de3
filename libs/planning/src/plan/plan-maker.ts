import type { DispatchPlan, World } from '@blockbell/railway';
import { Planner, type Plan } from '@blockbell/scheduling';
import { buildProblem, type PlanningProblem } from '../problem/build-problem.js';
import { USUAL_CHOICES, type PlanningChoices } from '../problem/choices.js';
import type { Situation } from '../situation/situation.js';
import { readPlan } from './read-plan.js';
import { warmStart } from './warm-start.js';

/** Seed of the planner's chance. */
const SEED = 1;
/** Work between two looks at how far the search has come. */
const SLICE = 100_000;
/** Work without a better plan after which none is looked for any more. */
const PATIENCE = 400_000;

/**
 * Makes plans for one session, each beginning with what the last one said. No clock and no chance: the same situations in
 * the same order give the same plans.
 */
export class PlanMaker {
  #last: DispatchPlan | null;

  /**
   * @param world of its own, compiled for it from the session's files: planning numbers places in it
   * @param last the plan to begin with, if there is one
   */
  constructor(
    private readonly world: World,
    private readonly choices: PlanningChoices = USUAL_CHOICES,
    last: DispatchPlan | null = null,
  ) {
    this.#last = last;
  }

  /** The best plan found within the effort, where none keeps the order that a dispatcher wishes without that; null if there was none. */
  plan(situation: Situation): DispatchPlan | null {
    const plan = this.#planFor(situation);
    if (plan !== null || situation.firsts.length === 0) return plan;
    return this.#planFor({ ...situation, firsts: [] });
  }

  #planFor(situation: Situation): DispatchPlan | null {
    const { horizon, effort } = this.choices;
    const planning = buildProblem(this.world, situation, horizon);
    const found = searchPlan(planning, warmStart(planning, this.#last, situation.now), effort);
    if (found === null) return null;
    this.#last = readPlan(this.world, situation, planning, found);
    return this.#last;
  }
}

/** The best answer to a problem that is found within the effort, or before nothing better comes for a while. */
export function searchPlan(
  { problem }: Pick<PlanningProblem, 'problem'>,
  lastPlan: Plan,
  effort: number,
): Plan | null {
  const planner = new Planner(problem, { seed: SEED, lastPlan });
  let state = planner.state;
  let bettered = 0;
  while (state.status === 'searching' && state.effort < effort) {
    const { plan } = state;
    state = planner.continue(Math.min(SLICE, effort - state.effort));
    if (state.plan !== plan) bettered = state.effort;
    if (plan !== null && state.effort - bettered >= PATIENCE) break;
  }
  return state.plan;
}
