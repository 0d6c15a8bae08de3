import type { RouteIndex } from '../layout/layout.js';

/** One move of a train as planned: the next route it is to have. */
export interface PlanStep {
  readonly train: number;
  /** The leg of its working that it is on, or begins, with the move. */
  readonly leg: number;
  readonly route: RouteIndex;
  /** Physical ms at which it is to have the route. */
  readonly at: number;
  /** Earlier steps of the plan, by their place in it: of other trains, over track that this step needs. */
  readonly after: readonly number[];
}

/** When a train is expected at a call, fast ms; null: it has arrived or left already, or its service begins or ends there. */
export interface PlannedCall {
  readonly train: number;
  readonly service: number;
  readonly call: number;
  readonly arrive: number | null;
  readonly depart: number | null;
}

/**
 * Who goes where and in which order, worked out outside the engine from what was known at the physical time `made`. Plain
 * data. A plan chooses and orders; whether a move is safe is judged when the train asks for it, as without a plan.
 */
export interface DispatchPlan {
  readonly made: number;
  /** The edition of the work by which it was made: in another the legs of a train may have other numbers. */
  readonly edition: number;
  /** In the order in which they are to be granted. */
  readonly steps: readonly PlanStep[];
  readonly calls: readonly PlannedCall[];
}

/**
 * A plan that is followed: by train, the place in the plan of its next step; the number of steps when it has none left, one more
 * when it has left the plan.
 */
export interface PlanInForce {
  plan: DispatchPlan;
  next: number[];
}
