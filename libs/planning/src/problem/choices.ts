/** How a session is turned into a problem; all times physical ms. */
export interface PlanningChoices {
  /** How far ahead the plan reaches. Trains run on to the first call from which they are booked to leave later. */
  readonly horizon: number;
  /** Work on one plan, in the planner's own steps (looks at a dependency or clause). */
  readonly effort: number;
}

export const USUAL_CHOICES: PlanningChoices = { horizon: 150_000, effort: 2_000_000 };

/** From the head's coming to a mark where it stops until the engine notes the arrival: creeping up, proof of standing. */
export const ARRIVING = 3000;
/** From the grant of a standing train's route until it moves, beside the throw of turnouts. */
export const STARTING = 300;
/** Places of a train's work that are looked at for one plan; beyond them it is cut at an earlier call. */
export const MOST_PLACES = 500;

/** What a tick of delay of a train costs, by its priority (1 is most important, 9 least). */
export const delayWeight = (priority: number): number => Math.max(1, 9 - priority);

/** Beside the cost of a late arrival, 10 × weight a tick: one of coming later than this before the booked time, 1 × weight. */
export const LATE = 10;
export const MARGIN = 10_000;
/** Cost, × weight, of each place further down in a call's order of preferred tracks. */
export const TRACK_RANK = 50;
