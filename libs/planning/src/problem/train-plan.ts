import type { Operation } from '@blockbell/scheduling';

/** What an operation of the scheduling problem stands for. */
export type Meaning =
  /** The train runs out or waits on what it holds already. */
  | { readonly kind: 'begin' }
  /** From the grant of a route until the tail has left what is behind. */
  | { readonly kind: 'route'; readonly leg: number; readonly route: number }
  /** At the place reached: runs up to its mark, dwells, waits. `run`: ms from its start until the head is at the mark. */
  | { readonly kind: 'place'; readonly leg: number; readonly atStop: boolean; readonly run: number }
  | { readonly kind: 'end' };

/** An operation before resources have got their names: those it holds, by number. */
export interface Draft extends Pick<Operation, 'startLb' | 'minDuration' | 'successors'> {
  readonly holds: readonly number[];
  readonly meaning: Meaning;
}

/** A delay that costs: as in the scheduling problem, of one train's operation. */
export interface DelayCost {
  readonly operation: number;
  readonly threshold: number;
  readonly coeff: number;
  readonly increment: number;
}

/** One train's part of a plan. Times in ticks from the moment of the situation on. */
export interface TrainPlan {
  readonly train: number;
  readonly drafts: readonly Draft[];
  readonly costs: readonly DelayCost[];
  /** Resources held until the train has arrived and people have changed: by connection, with the ticks that takes. */
  readonly awaited: readonly Awaited[];
}

export interface Awaited {
  readonly connection: number;
  /** Operations in which it is held. */
  readonly operations: readonly number[];
  readonly release: number;
}
