import type { StationId, TrainId } from '../ids.js';
import type { TrainClass } from '../stock/stock-file.js';
import type { ClockText } from '../timetable/timetable-file.js';
import type { Millimetres } from '../units.js';

/** What may be asked of a train. Minutes are of the fast clock. */
export type TrainCondition =
  | { readonly is: 'class'; readonly of: readonly TrainClass[] }
  | { readonly is: 'train'; readonly of: readonly TrainId[] }
  | { readonly is: 'longer' | 'shorter'; readonly than: Millimetres }
  /** It is booked to leave the yard so soon. */
  | { readonly is: 'leaving'; readonly within: number }
  /** It is not booked to leave the yard any more. */
  | { readonly is: 'staying' }
  /** It leaves the yard by the end it came in by, whichever track it takes. */
  | { readonly is: 'turning' }
  /** The fast clock shows `from` or later, and less than `until`. */
  | { readonly is: 'between'; readonly from: ClockText; readonly until: ClockText }
  | { readonly is: 'all' | 'any'; readonly of: readonly TrainCondition[] }
  | { readonly is: 'not'; readonly of: TrainCondition };

/** What may be asked of a track that a train is to be put into. */
export type TrackCondition =
  | { readonly is: 'track'; readonly of: readonly string[] }
  | { readonly is: 'empty' }
  | { readonly is: 'longer' | 'shorter'; readonly than: Millimetres }
  /** Nobody there is to leave before the train by the end that it would stand at. */
  | { readonly is: 'burying-nobody' }
  /** Nobody there would keep the train from leaving when it is booked to. */
  | { readonly is: 'not-buried' }
  /** Whoever stands there is of the train's class. */
  | { readonly is: 'same-class' }
  /** With the train in it, at least so many tracks of the yard are empty. */
  | { readonly is: 'keeping-free'; readonly tracks: number }
  | { readonly is: 'all' | 'any'; readonly of: readonly TrackCondition[] }
  | { readonly is: 'not'; readonly of: TrackCondition };

/** Which of two tracks is taken before the other. */
export type TrackOrder =
  /** The one with the least length to spare, or the most. */
  | { readonly by: 'least-spare' | 'most-spare' }
  | { readonly by: 'fewest-buried' }
  /** As the train's call prefers them, or as the layout lists them. */
  | { readonly by: 'call' | 'list' }
  /** The one with more trains in it, or with fewer. */
  | { readonly by: 'fullest' | 'emptiest' }
  /** The one that has got no train for the longest time. */
  | { readonly by: 'rotation' }
  | { readonly by: 'random'; readonly seed: number };

/** Which track a train takes on arrival. */
export interface ArrivalRule {
  /** Absent: every train. */
  readonly when?: TrainCondition;
  /** Absent: every track that it may take. */
  readonly only?: TrackCondition;
  /** The first that tells two tracks apart decides; after all of them the layout's list. */
  readonly order: readonly TrackOrder[];
}

/** What is done with a train for which no arrival rule finds a track; one after the other. */
export type Fallback =
  /** It waits outside the yard; after so many minutes the next is done. */
  | { readonly do: 'hold'; readonly minutes: number }
  | { readonly do: 'take'; readonly only?: TrackCondition; readonly order: readonly TrackOrder[] }
  /** It goes to another staging yard, if that has a track for it and its work can be ended from there. */
  | { readonly do: 'overflow'; readonly to: StationId }
  /** It waits outside until a person says which track. */
  | { readonly do: 'ask' };

/** Which of two trains that are due leaves before the other. */
export type DepartureOrder =
  | { readonly by: 'timetable' }
  | { readonly by: 'longest-waiting' }
  /** The one that has left the yard the least often. */
  | { readonly by: 'rotation' }
  /** Classes in this order, those not named after them. */
  | { readonly by: 'class'; readonly of: readonly TrainClass[] }
  | { readonly by: 'priority' }
  | { readonly by: 'random'; readonly seed: number };

/** Trains that leave only when the place they go to asks for one. */
export interface RequestRule {
  readonly when?: TrainCondition;
  /** The place asks while fewer trains than this are there or on their way to it. */
  readonly fewerThan: number;
  /** A train that is due goes after so many minutes all the same. */
  readonly minutes: number;
}

/** Whether a train goes on to a free slot further on in its track: on arrival, then and whenever one falls free, or never. */
export type MoveUp = 'on-arrival' | 'whenever-free' | 'never';

/** How one staging yard is worked. */
export interface YardRulesFile {
  readonly yard: StationId;
  /** The first that applies and finds a track decides. */
  readonly arrivals: readonly ArrivalRule[];
  /** After the last one, a person is asked. */
  readonly nothingFits: readonly Fallback[];
  readonly departures: {
    /** The first that tells two trains apart decides; after all of them the timetable. */
    readonly order: readonly DepartureOrder[];
    readonly requests: readonly RequestRule[];
  };
  readonly moveUp: MoveUp;
}

export interface StagingRulesFile {
  readonly kind: 'blockbell-staging-rules';
  readonly version: 1;
  readonly id: string;
  readonly name: string;
  readonly layout: string;
  readonly yards: readonly YardRulesFile[];
}
