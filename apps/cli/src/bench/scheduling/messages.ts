import type { PlannerOptions, PlanningState, Problem } from '@blockbell/scheduling';

/** To the planning thread. */
export type PlanningRequest =
  | { readonly type: 'plan'; readonly problem: Problem; readonly options: PlannerOptions }
  | { readonly type: 'stop' };

/** From the planning thread: after each better plan, and when it has stopped. */
export interface PlanningReport {
  readonly state: PlanningState;
  /** Whether this is the last report on the request. */
  readonly ended: boolean;
}
