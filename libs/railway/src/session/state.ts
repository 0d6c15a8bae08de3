import type { Search } from '../dispatching/safety-search.js';
import type { OrderStep } from '../dispatching/safety-problem.js';
import type { PlanInForce } from '../dispatching/plan.js';
import type { Wishes } from '../dispatching/wishes/wish.js';
import type { ElementIndex, Heading, RouteIndex } from '../layout/layout.js';
import type { Reckoning } from '../movement/reckoning.js';
import type { AddedWork } from '../timetable/added-work.js';
import type { StagingState } from '../yards/staging-state.js';
import type { DelayLedger, DelayParts } from '../waiting/delay-ledger.js';
import type { ToldWait } from '../waiting/tell-waits.js';
import type { Aspect, ReadDecoder } from './device.js';
import type { WaitReason } from './wait-reason.js';

/**
 * The whole memory of a session: plain data, changed in place through one {@link Writer}. Lengths are mm
 * along a train's own path unless a name says otherwise, times are physical ms. Absolute times stand only in
 * `deadlines` and in evidence (fields named `since` and `reckoning`).
 */
export interface EngineState {
  /** Counts the steps taken. */
  revision: number;
  /** Physical time of the last input. */
  now: number;
  session: SessionState;
  sections: SectionState[];
  elements: ElementState[];
  trains: TrainState[];
  districts: DistrictState[];
  /** By bus id: whether it is heard. */
  buses: Record<string, boolean>;
  /** By heading, for headings that have a signal; null elsewhere. */
  signals: (Aspect | null)[];
  /** Trains that may have been taken for each other; see `occupancy/doubt.ts`. */
  doubts: Doubt[];
  alarms: Alarm[];
  nextAlarm: number;
  deadlines: Deadline[];
  dispatching: DispatchingState;
  staging: StagingState;
  /** What was added to the timetable. */
  added: AddedWork;
  counts: SessionCounts;
}

export type SessionPhase =
  /** Power has not been on yet. */
  | { readonly kind: 'set-up' }
  /** Power is on; expected places are compared with detection. `settled`: every district has reported. */
  | { readonly kind: 'line-up'; readonly settled: boolean; readonly resumed: boolean }
  | { readonly kind: 'running' }
  | { readonly kind: 'paused' }
  | { readonly kind: 'stopped'; readonly why: string }
  | { readonly kind: 'powerless'; readonly why: string }
  /** No new workings; trains reach the end of what they run. */
  | { readonly kind: 'ending' }
  | { readonly kind: 'ended' };

export interface SessionState {
  phase: SessionPhase;
  departuresHeld: boolean;
  clock: FastClock;
  /** Whether any session phase has been running before: a later line-up resumes rather than starts. */
  begun: boolean;
}

/** Fast time = fast + (now − since) × ratio while running. */
export interface FastClock {
  ratio: number;
  fast: number;
  since: number;
  running: boolean;
}

/** What one detector says, filtered. `unknown` counts as occupied. */
export interface SectionState {
  belief: 'clear' | 'occupied' | 'unknown';
  /** The last unfiltered message; null while none has come since power-up. */
  raw: boolean | null;
  /** The train on whose held path it lies, or −1. */
  claim: number;
  /** Decoders read in it last; empty says nothing. */
  decoders: ReadDecoder[];
  /** More decoders answer in it at once than can be told apart. */
  crowded: boolean;
  /** Trains it has read while it was held for the same train and never read free: see `occupancy/evidence.ts`. */
  heard: { train: number; near: boolean }[];
  /** A person said that it is clear, in words; until a train has proven it, at restricted speed. */
  clearByHand: string | null;
  /** Occupied by nobody known: since when, in words. */
  unidentified: string | null;
  since: number;
}

export interface ElementState {
  /** Position last commanded or proven; null for what has no drive or is not known. */
  position: string | null;
  proof: 'none' | 'moving' | 'proven' | 'presumed' | 'failed';
  /** The train that holds it, or −1. */
  holder: number;
  /** Trains whose routes rely on it for flank protection. */
  flankFor: number[];
  /** The train for which it is locked as overlap, beyond where it is to stop; or −1. */
  overlapFor: number;
  /** How often the present command was repeated. */
  tries: number;
  /** Closed by a person for work, and for what: no way is set over it. */
  possession: string | null;
}

export interface DistrictState {
  power: 'on' | 'off' | 'short';
}

/** How well it is known that this train stands where it is believed. */
export type Certainty = 'reported' | 'inferred' | 'declared' | 'expected' | 'ambiguous';

export interface Identity {
  certainty: Certainty;
  /** One sentence. */
  evidence: string;
  since: number;
  /** Contradicting reports explained so far as misreadings. */
  misreads: number;
}

/**
 * Trains in doubt together, and every assignment of them to places that the evidence allows with few enough named faults.
 * `assignments[k].places[i]` is the index into `places` where train `trains[i]` stands. No assignment: too many to
 * keep, or none explains all that was read; then only what a person says of each train counts.
 */
export interface Doubt {
  trains: number[];
  /** Headings. */
  places: number[];
  assignments: { places: number[]; faults: number }[];
  /**
   * What decoders answered: the train, in which section, how many times independently of each other since the
   * doubt; `goes`: the section has not read free since the last time.
   */
  reads: { train: number; section: number; times: number; goes: boolean }[];
  /** Where a person saw a train, and who. */
  said: { train: number; block: number; by: string }[];
  evidence: string;
  since: number;
}

/** One element of a train's held way. */
export interface PathItem {
  element: ElementIndex;
  /** The route this step belongs to and its place in it; route −1: the block the train began in. */
  route: RouteIndex;
  step: number;
  /** Heading for a block, −1 for what lies between blocks. */
  heading: Heading;
  start: number;
  end: number;
  /** Where the tail must be proven past before the element frees: `end` plus fouling. */
  releaseAt: number;
  /** Part of a way over which the train was called on: see `interlocking/call-on.ts`. */
  calledOn?: true;
}

export type TrainActivity =
  /** Not on the railway, by a person's word or without a stored place. */
  | { readonly kind: 'absent' }
  | { readonly kind: 'standing' }
  /** Told to run, or told to stop and not yet proven standing (a `stand` deadline is set). */
  | { readonly kind: 'moving' }
  /** Stopped by a fault; goes on only when a person says so. */
  | { readonly kind: 'halted'; readonly why: string };

export interface CallRecord {
  service: number;
  call: number;
  arrived: number | null;
  departed: number | null;
  /** What became of the time until its arrival; null where no arrival is booked, or none has happened. */
  delay: DelayParts | null;
}

export interface TrainState {
  activity: TrainActivity;
  identity: Identity;
  /** From the rearmost held element to the end of what is reserved. Empty when absent. */
  path: PathItem[];
  /** Path position up to which it may run: the stop mark it has authority to, and the locked limit. */
  mark: number;
  limit: number;
  /** Index into `path` of the last item it has authority over. */
  authorised: number;
  /** Elements locked beyond the end of its way, in case it stops too late. */
  overlap: number[];
  /** Furthest detected head edge and proven tail. */
  edge: number;
  tail: number;
  /** Sections the head has passed that never saw it, or that may have lost contact with it: their being clear proves nothing. */
  blind: number[];
  /** Sections said to be clear by a person in which the head was seen since: see `occupancy/tail-proof.ts`. */
  proving: number[];
  /** Dead reckoning from the last edge. Evidence: holds absolute times. */
  reckoning: Reckoning;
  /** Whether the train's front leads. */
  frontLeads: boolean;
  /** Leg of the working it runs or waits to begin; legs in all: see the working graph. */
  leg: number;
  /** Where the held path will end: the node of the safety problem, and the nodes of the blocks reserved before it. */
  node: number;
  nodes: number[];
  /** Fast time of arrival at the present call; null while under way. */
  arrivedAt: number | null;
  /** Physical time of arrival. */
  arrivedReal: number;
  /** By a person: it gets no further way. */
  held: boolean;
  /** Speed its crew asks for, mm/s; null while it runs by itself. */
  handSpeed: number | null;
  wait: WaitReason | null;
  waitingSince: number;
  calls: CallRecord[];
  /** What becomes of the time of the service it runs or is about to begin. */
  delay: DelayLedger;
  /** What was last told of its wait; null: nothing, or it does not wait. */
  told: ToldWait | null;
  /** Line-up: whether its place is confirmed. */
  confirmed: boolean;
  /** Whether it may have run where reckoning does not follow, so that its head must be found again. */
  adrift: boolean;
  /** Line-up: whether only a person's word confirms its place, for too much of what happened was lost. */
  mustSee: boolean;
}

export interface Alarm {
  id: number;
  /** What it is about, so that it is raised once: e.g. `drive:T31`. */
  key: string;
  text: string;
  mend: string;
  raisedAt: number;
  /** Fast-clock time of raising, ms. */
  raisedFast: number;
  clearedAt: number | null;
  acknowledgedBy: string | null;
}

/** Something the engine wants to be woken for. Kinds sort the order at equal times. */
export interface Deadline {
  at: number;
  kind: DeadlineKind;
  /** Index of the section, element or train concerned; −1 for the session. */
  subject: number;
}

export type DeadlineKind =
  | 'hold-off'
  | 'left-behind'
  | 'drive'
  | 'profile'
  | 'overdue'
  | 'stand'
  | 'approach'
  | 'draw-up'
  | 'settle'
  | 'request'
  | 'depart'
  | 'retry'
  | 'plan'
  | 'patience'
  | 'dispatch';

/**
 * Not all trains could finish after the move; whether they could was not found out within the search allowed; or the
 * proven order says nothing of it, so that only a search can tell.
 */
export type Finding = 'doomed' | 'exhausted' | 'beyond-order';

export interface DispatchingState {
  /** The last proven order, next move first. */
  order: OrderStep[];
  /** Whether `order` proves the present state. */
  proven: boolean;
  /** A search that goes on between inputs, and for whom. */
  search: Search | null;
  searchFor: { train: number; to: number } | null;
  /** What was found of moves since trains last moved on: `train:to` → finding. */
  findings: Record<string, Finding>;
  /** Whether something changed that may let a waiting train go. */
  due: boolean;
  /** The train that has waited longest past the limit; others may only move as its turn requires. */
  starving: number;
  /** Who is asked first where the plan says nothing. */
  precedence: Precedence;
  /** The plan that is followed where that is safe; null: none. */
  plan: PlanInForce | null;
  /** What a dispatcher wishes, beside the plan and before it. */
  wishes: Wishes;
}

/**
 * Who is asked first of trains that stand: the one booked first, then by priority and how long it has waited; the one that
 * has waited longest; or by priority, then how long it has waited.
 */
export type Precedence = 'booked' | 'first-come' | 'priority';

export interface SessionCounts {
  grants: number;
  refusedDoomed: number;
  refusedExhausted: number;
  /** Routes taken while a plan had a next step for the train: that one and in the plan's order, or not. */
  asPlanned: number;
  otherThanPlanned: number;
  inferred: number;
  reported: number;
  reversals: number;
  throws: number;
  /** Sections that a person confirmed to be clear against their detectors. */
  resets: number;
  alarms: number;
}
