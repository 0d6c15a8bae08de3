import type { FastTime } from '@blockbell/railway';

export type FindingKind =
  /** Less time than the quickest permitted way takes. */
  | 'running-time'
  /** Less time at a stop than its least dwell. */
  | 'dwell'
  /** The next service of a working leaves before the train has arrived and turned round. */
  | 'turn-round'
  /** The next service of a working begins elsewhere. */
  | 'workings-apart'
  /** Two services on the same track at the same time, whichever permitted ways they take. */
  | 'track-conflict'
  /** More trains at a station or in a yard than it has places for. */
  | 'no-room'
  /** A train longer than every track it may use. */
  | 'too-long'
  /** No permitted way leads on. */
  | 'no-way'
  /** Too little time to change to a connecting service. */
  | 'transfer'
  /** Booked before the session begins or after it ends. */
  | 'outside-session';

/**
 * `breaks`: the timetable can't be kept. `tight`: less than a minute of the fast clock is missing, so that trains come a
 * little late and still count as on time.
 */
export type FindingWeight = 'breaks' | 'tight';

/** A booked time that changes; both as the file writes them. */
export interface TimeChange {
  readonly service: string;
  /** Index of the call within the service. */
  readonly call: number;
  readonly what: 'arrive' | 'depart';
  readonly from: string;
  readonly to: string;
}

/** What would mend a finding: in words, and the times to change where it is times alone. */
export interface Proposal {
  readonly text: string;
  readonly changes: readonly TimeChange[];
}

/** Something in a timetable that trains can't do, or hardly. */
export interface Finding {
  readonly kind: FindingKind;
  readonly weight: FindingWeight;
  /** Ids of the services concerned; the one to change first. */
  readonly services: readonly string[];
  /** Where, in words. */
  readonly place: string;
  /** Ids of the stations it happens at or between. */
  readonly stations: readonly string[];
  /** The span of the fast clock in which it shows, ms since midnight. */
  readonly from: FastTime;
  readonly until: FastTime;
  /** How much is missing: fast-clock ms; for `too-long` model mm, for `no-room` trains, else 0. */
  readonly missing: number;
  readonly text: string;
  readonly proposal: Proposal;
}

/** What is missing below this still counts as on time, fast ms. */
export const ON_TIME = 60_000;

export const weightOf = (missing: number): FindingWeight =>
  missing < ON_TIME ? 'tight' : 'breaks';
