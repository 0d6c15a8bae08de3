import type { StagingRulesFile } from './staging-rules-file.js';

/** Why a train takes, or took, its track in the yard that it comes to. */
export interface TrackChoice {
  /** Index of the yard among the stations, and of the track in it; −1: it was a person's to say which. */
  readonly station: number;
  readonly track: number;
  /** The stop of the train's work for which it was chosen. */
  readonly stop: number;
  /** One sentence. */
  readonly why: string;
  /** Which arrival of all yards this is, counted from 1, and which was the last in the track before; 0: none. */
  readonly visit: number;
  readonly usedBefore: number;
}

/** What a train has waited for before a yard. */
export interface YardWait {
  /** Fast-clock ms since when no rule has found a track; null: one has. */
  readonly since: number | null;
  /** Physical ms since when what a rule found could not be had; null: it was not tried, or could. */
  readonly refusedSince: number | null;
  /** Overflows that can't be had, by their place among what is done when nothing fits, each with why in a sentence. */
  readonly closed: readonly ClosedOverflow[];
}

export interface ClosedOverflow {
  readonly place: number;
  readonly why: string;
  /** Until when it is not tried again, physical ms. */
  readonly until: number;
}

/** What has become of a service that names no train. */
export type OpenRun =
  /**
   * It has none yet. `why`: the reason that the first train asked had, a sentence; null: none was asked. `refused`: trains that can't
   * work it, not asked again before `next`, physical ms.
   */
  | {
      readonly kind: 'awaited';
      readonly why: string | null;
      readonly refused: readonly number[];
      readonly next: number;
    }
  /** Which train works it, under which number the service stands in its work, and why this train, a sentence. */
  | {
      readonly kind: 'given';
      readonly train: number;
      readonly service: number;
      readonly why: string;
    }
  | { readonly kind: 'not-run'; readonly why: string };

/** What a session remembers of its staging yards: plain data. */
export interface StagingState {
  /** The rules that are followed; null: none, every train takes the first track of its call that is free and safe. */
  rules: StagingRulesFile | null;
  /** By train: the last choice for it; null: none. */
  choices: (TrackChoice | null)[];
  /** By train; null: it waits for nothing. */
  waits: (YardWait | null)[];
  /** How many trains were put into a track by rules, and by `station track` which of these was the last. */
  visits: number;
  lastUsed: Record<string, number>;
  /** By service of the timetable that names no train. */
  open: OpenRun[];
}

export const emptyStaging = (trains: number, openServices: number): StagingState => ({
  rules: null,
  choices: Array.from({ length: trains }, () => null),
  waits: Array.from({ length: trains }, () => null),
  visits: 0,
  lastUsed: {},
  open: Array.from({ length: openServices }, () => ({
    kind: 'awaited',
    why: null,
    refused: [],
    next: 0,
  })),
});

export const useKey = (station: number, track: number): string => `${station} ${track}`;
