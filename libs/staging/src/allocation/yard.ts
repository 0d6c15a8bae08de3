import type { Berth } from '@blockbell/railway';

export type { Berth, TrackEnd } from '@blockbell/railway';

/** A track of a yard. `room` is in whatever unit `needs` of its berths is in: mm, or slots. */
export interface YardTrack {
  readonly id: string;
  readonly room: number;
}

/** A train's time in the yard. Those who come at one moment come in the order of the list. */
export interface Stay {
  readonly id: string;
  /** −Infinity for a train that stands there from the start. */
  readonly arrive: number;
  /** Infinity for one that stays; later than `arrive`. */
  readonly depart: number;
  /** Where it may stand; a train that stands there from the start has one. */
  readonly berths: readonly Berth[];
}

export interface Yard {
  readonly tracks: readonly YardTrack[];
  readonly stays: readonly Stay[];
}

/** A train that can't leave when it should, for another stands between it and the end it leaves by. */
export interface Burial {
  /** Index of the stay that can't end. */
  readonly stay: number;
  /** Index of the stay that is in its way. */
  readonly by: number;
}

export interface Allocation {
  /** By stay: index into its berths; null where no track has room for it. */
  readonly berths: readonly (number | null)[];
  readonly unplaced: readonly number[];
  readonly burials: readonly Burial[];
  /** Costs of all berths, together. */
  readonly cost: number;
  /** Whether no allocation leaves fewer out, or as few and buries fewer: all were gone through or ruled out. */
  readonly proven: boolean;
  /** Berths looked at. */
  readonly looked: number;
}
