import type { World } from '@blockbell/railway';
import type { Trip } from '../booking/trips.js';
import type { LeastTimes } from '../ways/least-times.js';
import type { TrainWays } from '../ways/permitted-ways.js';
import type { Way } from '../ways/way.js';
import { occupationOf, releaseTimes, type Hold, type Pace, type TripTimes } from './occupation.js';
import { TrackBook } from './track-book.js';

/** Rounds over all trains before what still overlaps counts as unavoidable. */
const MOST_ROUNDS = 24;
/** What being on one’s second choice of track costs against a ms of overlap. */
const OVERLAP = 100;

/** What a train does on a trip. */
export interface ChosenWay {
  readonly trip: Trip;
  readonly index: number;
  readonly way: Way;
  readonly pace: Pace;
  readonly times: TripTimes;
  readonly holds: readonly Hold[];
}

/** What is known of a train that can run its work alone; null for others. */
export interface TrainCourse {
  readonly trips: readonly Trip[];
  readonly ways: TrainWays;
  readonly least: readonly LeastTimes[];
}

/**
 * Chooses a way and a pace for every trip so that trains are in each other's way as little as possible at their booked
 * times. Each train in turn takes the best course through its permitted ways, the others being where they are; an overlap
 * that stays costs more every round, until someone else makes room (the breakout method of P. Morris, 1993, from
 * memory). The best of all rounds counts.
 * @param margin fast ms for which track is taken to be held longer, so that trains can be moved apart that much
 */
export function chooseWays(
  world: World,
  courses: readonly (TrainCourse | null)[],
  margin = 0,
): readonly (readonly ChosenWay[])[] {
  const chooser = new Chooser(world, courses, margin);
  return chooser.run();
}

class Chooser {
  readonly #book = new TrackBook();
  readonly #weights = new Map<string, number>();
  readonly #release: (resource: number) => number;
  readonly #options = new Map<Way, readonly ChosenWay[]>();
  readonly #chosen: (readonly ChosenWay[])[];

  constructor(
    private readonly world: World,
    private readonly courses: readonly (TrainCourse | null)[],
    margin: number,
  ) {
    const release = releaseTimes(world.layout, world.timetable.ratio);
    this.#release = (resource) => release(resource) + margin;
    this.#chosen = courses.map(() => []);
  }

  run(): readonly (readonly ChosenWay[])[] {
    let best = { overlap: Infinity, chosen: [...this.#chosen] };
    let dull = 0;
    for (let round = 0; round < MOST_ROUNDS && dull < 8; round++) {
      let changed = false;
      this.courses.forEach((course, train) => {
        if (course !== null && this.#rechoose(course, train)) changed = true;
      });
      const overlap = this.#weigh();
      dull = overlap < best.overlap ? 0 : dull + 1;
      if (overlap < best.overlap) best = { overlap, chosen: [...this.#chosen] };
      if (overlap === 0 && !changed) break;
    }
    return best.chosen;
  }

  /** Lets one train choose anew; whether it takes another course. */
  #rechoose(course: TrainCourse, train: number): boolean {
    const before = this.#chosen[train]!;
    for (const { holds } of before) this.#book.remove(train, holds);
    const chosen = this.#bestCourse(course, train);
    this.#chosen[train] = chosen;
    chosen.forEach(({ index, holds }) => this.#book.add(train, index, holds));
    return before.length === 0 || chosen.some((it, i) => it !== before[i]);
  }

  /** The cheapest chain of ways, each from where the one before ends. */
  #bestCourse({ trips, ways, least }: TrainCourse, train: number): ChosenWay[] {
    interface Reached {
      readonly cost: number;
      readonly last: ChosenWay | null;
      readonly before: Reached | null;
    }
    const start: Reached = { cost: 0, last: null, before: null };
    let reached = new Map<number, Reached>([[this.world.graphs[train]!.start, start]]);
    const times = timesOf(this.world, trips, least);
    trips.forEach((trip, index) => {
      const next = new Map<number, Reached>();
      for (const [node, before] of reached) {
        for (const way of ways[index]!.get(node) ?? []) {
          for (const option of this.#optionsFor(trip, index, way, times[index]!)) {
            const cost = before.cost + this.#cost(train, option);
            if (cost < (next.get(way.end)?.cost ?? Infinity))
              next.set(way.end, { cost, last: option, before });
          }
        }
      }
      reached = next;
    });
    let [best] = reached.values();
    for (const each of reached.values()) if (each.cost < best!.cost) best = each;
    const chain: ChosenWay[] = [];
    for (let at = best ?? null; at?.last != null; at = at.before) chain.unshift(at.last);
    return chain;
  }

  #optionsFor(trip: Trip, index: number, way: Way, times: TripTimes): readonly ChosenWay[] {
    const known = this.#options.get(way);
    if (known !== undefined) return known;
    const { ratio, start } = this.world.timetable;
    const slack = times.arrives - times.departs - way.arrived * ratio;
    const paces: readonly Pace[] = slack > 0 ? ['even', 'swift'] : ['swift'];
    const since = index === 0 ? Math.min(start, times.departs) : null;
    const found = paces.map((pace): ChosenWay => {
      const holds = occupationOf(trip, way, pace, times, ratio, this.#release, since);
      return { trip, index, way, pace, times, holds };
    });
    this.#options.set(way, found);
    return found;
  }

  #cost(train: number, { index, way, pace, holds }: ChosenWay): number {
    let cost = way.rank * 2 + (pace === 'even' ? 0 : 1);
    for (const { other, length } of this.#book.overlaps(train, holds)) {
      const weight = this.#weights.get(pairKey(train, index, other.train, other.trip)) ?? 1;
      cost += Math.ceil(length) * OVERLAP * weight;
    }
    return cost;
  }

  /** Adds up what overlaps now, and makes it dearer. */
  #weigh(): number {
    let sum = 0;
    this.#chosen.forEach((chosen, train) => {
      for (const { index, holds } of chosen) {
        for (const { other, length } of this.#book.overlaps(train, holds)) {
          if (other.train < train) continue;
          sum += length;
          const key = pairKey(train, index, other.train, other.trip);
          this.#weights.set(key, (this.#weights.get(key) ?? 1) + 1);
        }
      }
    });
    return sum;
  }
}

const pairKey = (train: number, trip: number, other: number, otherTrip: number): string =>
  train < other
    ? `${train} ${trip} ${other} ${otherTrip}`
    : `${other} ${otherTrip} ${train} ${trip}`;

/** When each trip leaves and arrives: as booked; where nothing is booked, as soon as it can. */
function timesOf(
  { timetable }: World,
  trips: readonly Trip[],
  least: readonly LeastTimes[],
): TripTimes[] {
  let ready: number = timetable.start;
  const rough = trips.map(({ depart, arrive, stay }, index) => {
    const departs = depart ?? ready;
    const arrives = arrive ?? departs + least[index]!.run;
    ready = arrives + stay;
    return { departs, arrives };
  });
  return rough.map((times, index) => ({ ...times, leaves: rough[index + 1]?.departs ?? Infinity }));
}
