import type { RuleRef, StationId } from '@blockbell/railway';

/** What became of one stay of the timetable when the rules were tried. Times are fast-clock ms. */
export interface TriedStay {
  /** Index into the stays of the booked yard. */
  readonly stay: number;
  /** When it got its track; null: never in the session. Trains that stand there from the start have the session's. */
  readonly placed: number | null;
  /** Index into its berths; null: it got no track. */
  readonly berth: number | null;
  /** The other yard to which the rules sent it, and when; null: they did not. */
  readonly sent: { readonly to: StationId; readonly at: number } | null;
  /** By which rule it was put there, or sent; null: it stood there, or got no track. */
  readonly rule: RuleRef | null;
  /** How long it waited outside, and whether a person would have been asked. */
  readonly waited: number;
  readonly asked: boolean;
  /** When it left the yard; null: not in the session. */
  readonly left: number | null;
  /** Stays that stood between it and the end it leaves by when it was due. */
  readonly buriedBy: readonly number[];
}

/** The rules of a yard tried on a timetable that is kept outside the yard. */
export interface Trial {
  readonly stays: readonly TriedStay[];
  /** By track: the most trains that were in it at once. */
  readonly most: readonly number[];
}
