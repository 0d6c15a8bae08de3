import type { Heading, RouteIndex } from '@blockbell/railway';

/** One move of a return to start. */
export interface ReturnMove {
  readonly train: number;
  /** Whether the train changes its direction before it sets out. */
  readonly turns: boolean;
  /** Routes to be set for it, one beyond the other; never none. */
  readonly routes: readonly RouteIndex[];
  /** Where it stops. */
  readonly to: Heading;
  /** Whether that is its starting place; otherwise it is put aside there, or goes on from there. */
  readonly isHome: boolean;
  /** How long it is expected to take, physical ms. */
  readonly time: number;
  /** Earlier moves that must have been made before: by their place in the plan. */
  readonly after: readonly number[];
}

/** Why a train can't be brought back by the program. */
export type LeftCode =
  /** It is not where it could be moved from: absent, halted, held, in hand, not certain. */
  | 'not-to-be-moved'
  /** It had no starting place. */
  | 'no-start'
  /** No way leads it there, or none the right way round. */
  | 'no-way'
  /** Others that can't be put aside stand in its way. */
  | 'in-the-way'
  /** No order was found within the search allowed. */
  | 'not-found';

/** A train that is left to a person. */
export interface LeftTrain {
  readonly train: number;
  readonly code: LeftCode;
  /** Why, and what a person can do, each a sentence. */
  readonly why: string;
  readonly mend: string;
}

/** How the trains come back to where they stood when the session began. */
export interface ReturnPlan {
  /** In an order in which they can be made one after the other. */
  readonly moves: readonly ReturnMove[];
  /** Trains that already stand there, and need not be moved. */
  readonly there: readonly number[];
  readonly left: readonly LeftTrain[];
  /** Until all moves are made, those that can be made at once side by side, physical ms. */
  readonly time: number;
  /** Whether no order brings more trains back, nor as many with fewer moves. */
  readonly isBest: boolean;
}
