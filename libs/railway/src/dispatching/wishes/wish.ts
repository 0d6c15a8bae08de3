/** That a train shall end a leg of its work in one track of those its timetable allows there. */
export interface TrackWish {
  readonly train: number;
  /** Leg `k` leads from stop `k` of its work to the next. */
  readonly leg: number;
  /** The track's name. */
  readonly track: string;
}

/** That one train shall go before another over track that both will need. */
export interface FirstWish {
  readonly first: number;
  readonly second: number;
  /** The leg of the first train's work on which it comes to that track. */
  readonly leg: number;
  /** The elements that the first has not left behind yet, in the order of its way. */
  elements: number[];
  /** Those of them that it has held. */
  taken: number[];
}

/** The leg of services that a train has left out for good: its work has none for them any more. */
export const GONE = -1;

/** That a train leaves out services of its work. */
export interface Cancellation {
  readonly train: number;
  readonly services: readonly number[];
  /** The leg with which they begin, and the one with which its work goes on. */
  readonly leg: number;
  readonly to: number;
  /** Whether it has left them out; before, it is still on its way to where they begin. */
  done: boolean;
}

/**
 * What a dispatcher wishes of the choice between ways, of the order of trains and of their work, until it has come about, is taken
 * back or can't be kept. Plain data. Wishes choose and order, as plans do; whether a move is safe is judged as without them.
 */
export interface Wishes {
  tracks: TrackWish[];
  firsts: FirstWish[];
  cancellations: Cancellation[];
}

export const noWishes = (): Wishes => ({ tracks: [], firsts: [], cancellations: [] });
