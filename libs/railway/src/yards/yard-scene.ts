import type { TrainClass } from '../stock/stock-file.js';
import type { Berth } from './berths.js';
import type { TrackEnd } from './track-ends.js';

/** A train that stands in a yard, or holds a way into a track of it. */
export interface StandingTrain {
  readonly train: number;
  readonly class: TrainClass;
  /** Fast-clock ms at which it is booked to leave; Infinity: it stays. */
  readonly depart: number;
  /** The end by which it leaves. */
  readonly out: TrackEnd;
}

export interface SceneTrack {
  readonly id: string;
  readonly name: string;
  /** The longest train that it holds when it is empty, mm. */
  readonly length: number;
  /** From end a to end b: who is in each slot; null: it is free. */
  readonly slots: readonly (StandingTrain | null)[];
  /** Length of each slot, mm. */
  readonly slotLengths: readonly number[];
  /** Which arrival of the yard was the last to be put here, counted from 1; 0: none. */
  readonly lastUsed: number;
}

/** A yard at one moment, as the rules see it. */
export interface YardScene {
  /** Fast-clock ms since midnight. */
  readonly fast: number;
  readonly tracks: readonly SceneTrack[];
}

/** A train that comes, with the places that its work, its length and the track allow. */
export interface ComingTrain {
  readonly train: number;
  readonly id: string;
  readonly class: TrainClass;
  /** mm. */
  readonly length: number;
  /** Tells apart this train's arrivals, so that chance may fall otherwise for each. */
  readonly visit: number;
  readonly depart: number;
  readonly berths: readonly Berth[];
}

/** Trains in a track, each once. */
export const trainsIn = ({ slots }: SceneTrack): StandingTrain[] =>
  slots.filter((it, at): it is StandingTrain => it !== null && it.train !== slots[at - 1]?.train);

/** How many slots from an end on are free, up to the first train. */
export function freeFrom({ slots }: SceneTrack, end: TrackEnd): number {
  const from = end === 'a' ? slots : slots.toReversed();
  const first = from.findIndex((it) => it !== null);
  return first < 0 ? slots.length : first;
}

/** What stays free when a train is put in, mm; of an empty track that which the longest train could use beyond it. */
export function spareIn(track: SceneTrack, length: number): number {
  const taken = track.slots.reduce(
    (sum, it, at) => (it === null ? sum : sum + track.slotLengths[at]!),
    0,
  );
  return track.length - taken - length;
}

/** Those in the track that could not leave when booked, with the train in their way. */
export const buriedBy = (
  track: SceneTrack,
  { depart }: ComingTrain,
  berth: Berth,
): StandingTrain[] => trainsIn(track).filter((it) => it.out === berth.in && it.depart < depart);

/** Those in the track that would be in the train's way when it is booked to leave. */
export const buriers = (
  track: SceneTrack,
  { depart }: ComingTrain,
  berth: Berth,
): StandingTrain[] =>
  berth.out === berth.in ? [] : trainsIn(track).filter((it) => it.depart > depart);
