import { mixPair } from '../dispatching/doomed-patterns.js';
import type { Berth } from './berths.js';
import type { DepartureOrder, TrackOrder } from './staging-rules-file.js';
import {
  buriedBy,
  buriers,
  spareIn,
  trainsIn,
  type ComingTrain,
  type YardScene,
} from './yard-scene.js';

/** A number by which tracks are compared for a train; the lesser comes first. */
export function trackKey(
  order: TrackOrder,
  scene: YardScene,
  train: ComingTrain,
  berth: Berth,
): number {
  const track = scene.tracks[berth.track]!;
  switch (order.by) {
    case 'least-spare':
      return spareIn(track, train.length);
    case 'most-spare':
      return -spareIn(track, train.length);
    case 'fewest-buried':
      return buriedBy(track, train, berth).length + buriers(track, train, berth).length;
    case 'call':
      return berth.cost;
    case 'list':
      return berth.track;
    case 'fullest':
      return -trainsIn(track).length;
    case 'emptiest':
      return trainsIn(track).length;
    case 'rotation':
      return track.lastUsed;
    case 'random':
      return chance(order.seed, train.train, train.visit, berth.track);
  }
}

/** A train that is due to leave a yard, as the order of departures sees it. */
export interface DueTrain {
  readonly train: number;
  readonly class: string;
  /** 1 is most important. */
  readonly priority: number;
  /** Fast-clock ms of its booked departure. */
  readonly depart: number;
  /** Fast-clock ms of its arrival. */
  readonly since: number;
  /** How often it has left the yard. */
  readonly departures: number;
}

/** A number by which trains that are due are compared; the lesser leaves first. */
export function departureKey(order: DepartureOrder, due: DueTrain): number {
  switch (order.by) {
    case 'timetable':
      return due.depart;
    case 'longest-waiting':
      return due.since;
    case 'rotation':
      return due.departures;
    case 'class': {
      const place = order.of.findIndex((it) => it === due.class);
      return place < 0 ? order.of.length : place;
    }
    case 'priority':
      return due.priority;
    case 'random':
      return chance(order.seed, due.train, due.departures, 0);
  }
}

/** Trains that are due, in the order in which they leave; the timetable and the train's number decide what is equal. */
export const inOrderOfLeaving = (
  orders: readonly DepartureOrder[],
  due: readonly DueTrain[],
): DueTrain[] =>
  [...due].sort((a, b) => {
    for (const order of orders) {
      const [one, other] = [departureKey(order, a), departureKey(order, b)];
      if (one !== other) return one - other;
    }
    return a.depart - b.depart || a.train - b.train;
  });

/** The same for the same numbers, on any machine; 0 to 2³² − 1. */
const chance = (seed: number, train: number, visit: number, track: number): number =>
  mixPair(mixPair(seed, train), mixPair(visit, track));
