import type { AddedWork, Place, StagingRulesFile } from '@blockbell/railway';

/**
 * All that a planner must know of a session: plain data, small enough to be sent to another thread. Times are physical
 * ms from `now` on unless they are called fast.
 */
export interface Situation {
  /** Physical ms of the session. */
  readonly now: number;
  /** Fast-clock ms at `now`, and how many of them pass in one physical ms. */
  readonly fast: number;
  readonly ratio: number;
  /** What was added to the timetable. */
  readonly added: AddedWork;
  /** Elements that no train may be sent over, and for how long: closed, failed or with something unknown on them. */
  readonly closed: readonly Closed[];
  /** By train; null for one that is not on the layout, or has no work and no place to leave. */
  readonly trains: readonly (TrainSituation | null)[];
  /**
   * Fast time of the arrivals that connecting services wait for, by connection; null: not yet; `-Infinity`: nobody waits, the
   * service is cancelled.
   */
  readonly arrivals: readonly (number | null)[];
  /** How the staging yards are worked; null: by no rules. `used`: which arrival was the last in a track, by `useKey`. */
  readonly staging: {
    readonly rules: StagingRulesFile | null;
    readonly used: Readonly<Record<string, number>>;
  };
  /** Trains that a dispatcher wants to go first, over these elements on this leg of their work. */
  readonly firsts: readonly WishedOrder[];
}

export interface WishedOrder {
  readonly first: number;
  readonly second: number;
  readonly leg: number;
  readonly elements: readonly number[];
}

interface Closed {
  readonly element: number;
  readonly until: number;
}

export interface TrainSituation {
  /** Where its held way ends. */
  readonly place: Place;
  /** What it holds, by resource number, and when it will have left it; Infinity: not before it goes on from `place`. */
  readonly held: readonly { readonly resource: number; readonly until: number }[];
  /** When its head comes to the mark of `place`; 0 if it stands there. */
  readonly arrives: number;
  /** When it may leave at the earliest, by booked time and dwell; 0 where nothing is to be waited for. */
  readonly ready: number;
  /** Before this it probably goes nowhere: stopped by a fault, or held by a person. */
  readonly kept: number;
  /** Whether it has come to the call where `place` is, so that its arrival is not to be foretold. */
  readonly arrived: boolean;
  /** The blocks in which a leg shall end, where a dispatcher chose a track. */
  readonly tracks: readonly { readonly leg: number; readonly blocks: readonly number[] }[];
  /** The leg with which services begin that are cancelled: it goes no further by what it is booked; null: none. */
  readonly cancelledFrom: number | null;
}
