import { PlanMaker, PlanningDesk, type PlanningChoices } from '@blockbell/planning';
import type { DispatchPlan, EngineState, World } from '@blockbell/railway';

/** How often it is looked whether a plan is due, physical ms; a plan asked for at one look is there at the next. */
const LOOK = 1000;

/**
 * Plans for a rehearsal. They are made at once, whatever that takes, and come a second of simulated time later; so the
 * same session is planned in the same way on any machine.
 */
export class RehearsedPlanning {
  readonly #desk: PlanningDesk;
  readonly #maker: PlanMaker;
  #made: DispatchPlan | null = null;
  #next = 0;

  /**
   * @param own the session's world, compiled for the planner alone
   * @param from goes on from the plan that is followed there
   */
  constructor(own: World, choices: PlanningChoices, from: EngineState | null = null) {
    this.#desk = new PlanningDesk(from);
    this.#maker = new PlanMaker(own, choices, from?.dispatching.plan?.plan ?? null);
  }

  /** When it looks next, physical ms. */
  get nextAt(): number {
    return this.#next;
  }

  /** The plan that was asked for at the last look, if any; asks for the next where one is due. */
  look(world: World, state: EngineState, now: number): DispatchPlan | null {
    this.#next = now + LOOK;
    const plan = this.#made;
    const situation = this.#desk.look(world, state, now);
    this.#made = situation === null ? null : this.#maker.plan(situation);
    return plan;
  }
}
