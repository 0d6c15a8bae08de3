import type { Dispatching } from '../session/rehearse-once.js';
import type { Mean, Share, Spread } from './statistics.js';

/**
 * What many rehearsed sessions came to: plain data with every name in words, the same for the same sessions in whatever
 * order they were run. Times in fast-clock minutes where not said.
 */
export interface RehearsalReport {
  readonly kind: 'blockbell-rehearsals';
  readonly version: 1;
  readonly railway: string;
  readonly timetable: string;
  readonly disturbances: string;
  readonly dispatching: Dispatching;
  /** Name of the staging rules; null: none. */
  readonly rules: string | null;
  /** Whether the trains returned to where they began before each session ended. */
  readonly returns: boolean;
  /** Sessions asked for, and those that were run. */
  readonly asked: number;
  readonly sessions: number;
  readonly seeds: { readonly first: number; readonly last: number } | null;
  /** Sessions that came to their end within the time allowed. */
  readonly ended: number;
  /** Of a session's booked arrivals the share that is not more than so many minutes late, the mean over the sessions. */
  readonly punctuality: { readonly within3: Mean; readonly within5: Mean };
  /** At all booked arrivals at which a train stops; and how many were late by whole minutes. */
  readonly lateness: Spread;
  readonly histogram: readonly Bin[];
  /** Mean delay at an arrival, by session. */
  readonly meanDelay: Mean;
  /** A session's sum over its services as of their last arrivals: brought, own, waits for other trains, made up. */
  readonly delay: Readonly<Record<'entry' | 'own' | 'knockOn' | 'recovered', Mean>>;
  readonly services: readonly ServiceLine[];
  /** Services that name no train. */
  readonly open: readonly OpenLine[];
  readonly places: readonly PlaceLine[];
  readonly connections: readonly ConnectionLine[];
  readonly waits: {
    readonly byPlace: readonly WaitPlace[];
    readonly byTrain: readonly WaitCause[];
  };
  readonly yards: readonly YardLine[];
  /** Alarms in an hour of running, and by kind in a session. */
  readonly alarms: {
    readonly perHour: Mean;
    readonly kinds: readonly { readonly kind: string; readonly perSession: number }[];
  };
  readonly ends: {
    /** Sessions at whose end every train stands where it stood at the beginning. */
    readonly asBegan: Share;
    readonly elsewhere: readonly { readonly train: string; readonly share: Share }[];
  };
  /** Violations of a rule of safety in all sessions. */
  readonly violations: number;
  /** Hash over the end states of all sessions: equal for equal files, seeds and disturbances. */
  readonly digest: string;
}

/** Arrivals from `from` up to, but without, `to` minutes late; the first and the last bin are open: null. */
export interface Bin {
  readonly from: number | null;
  readonly to: number | null;
  readonly count: number;
}

/** A service at its last call; every session counts once, so that its sessions are independent trials. */
export interface ServiceLine {
  readonly service: string;
  readonly name: string;
  readonly train: string;
  readonly late: Spread;
  readonly within3: Share;
  readonly within5: Share;
  /** Sessions in which it did not arrive. */
  readonly notRun: number;
}

/** A service that names no train. */
export interface OpenLine {
  readonly service: string;
  readonly name: string;
  readonly run: Share;
  /** Which trains ran it, in how many sessions, the one that did most often first. */
  readonly trains: readonly { readonly train: string; readonly sessions: number }[];
}

export interface PlaceLine {
  readonly station: string;
  readonly name: string;
  readonly late: Spread;
  /** Percent of its arrivals that are not more than three minutes late. */
  readonly within3: number;
}

export interface ConnectionLine {
  readonly from: string;
  readonly to: string;
  readonly place: string;
  /** Of the sessions in which the second service left: those in which it did not wait long enough. */
  readonly missed: Share;
}

/** Time that trains waited for others at a place, in a session. */
export interface WaitPlace {
  /** Id of the element; null where the place is not known. */
  readonly element: string | null;
  readonly place: string;
  readonly perSession: number;
  /** For whom, the longest first. */
  readonly for: readonly { readonly train: string; readonly perSession: number }[];
}

/** A train, how long it made others wait in a session, and whom. */
export interface WaitCause {
  readonly train: string;
  readonly perSession: number;
  readonly whom: readonly { readonly train: string; readonly perSession: number }[];
}

export interface YardLine {
  readonly station: string;
  readonly name: string;
  readonly tracks: number;
  /** Of all its tracks: a train needs one at least. */
  readonly slots: number;
  /** Trains standing in it, by fast-clock ms since midnight. */
  readonly samples: readonly (Spread & { readonly fast: number })[];
}
