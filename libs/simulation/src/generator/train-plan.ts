import { nextBetween, nextChance, type RandomStream } from '../random.js';
import type { StationSite } from './draw-station.js';

/**
 * What one train does: the stations it works to, one service after the other, from its home on. `shuttle` turns
 * at stations and comes home; `balloon` can't reverse and comes home by a balloon loop; `through` can't reverse
 * and ends elsewhere, where a track is kept for it.
 */
export interface TrainPlan {
  readonly kind: 'shuttle' | 'balloon' | 'through';
  readonly home: number;
  /** Which of the home's tracks it stands in. */
  readonly track: number;
  readonly stops: readonly number[];
}

/** How many stations away a train works at most. */
const REACH = 4;
const THROUGH_PERMILLE = 250;
const BALLOON_PERMILLE = 500;
const MOST_SERVICES_THROUGH = 3;
const FROM_YARD_AT_ONCE = 3;

/**
 * Spreads trains and services over the railway. Every station always keeps a track that no train owns, where a
 * train at work can pass or turn: trains that do all their work one after the other need no more, so the start
 * is safe.
 */
export function planTrains(
  sites: readonly StationSite[],
  trains: number,
  services: number,
  random: RandomStream,
): readonly TrainPlan[] {
  const free = sites.map((_, index) => ownedTracks(sites, index));
  const room = free.reduce((sum, it) => sum + it, 0);
  if (trains > room) {
    throw new RangeError(
      `${sites.length} stations have room for ${room} trains, not for ${trains}`,
    );
  }
  const homes = chooseHomes(sites, free, trains, random);
  const taken = sites.map(() => 0);
  return shareOut(services, trains).map((count, index): TrainPlan => {
    const home = homes[index] ?? 0;
    const track = taken[home] ?? 0;
    taken[home] = track + 1;
    return { home, track, ...planWork(sites, free, home, count, random) };
  });
}

/** How many tracks trains may own: all but one, so that others can pass or turn. */
function ownedTracks(sites: readonly StationSite[], index: number): number {
  const station = sites[index]?.station;
  if (station === undefined || station.kind === 'wayside') return 0;
  // Between two stations of which one has a single track, no train ever comes to the other but its own.
  const unvisited = sites.length === 2 && index === 0 && sites[1]?.station.tracks === 1;
  return unvisited ? station.tracks : station.tracks - 1;
}

/**
 * Stations in random order, over and over, each as long as it has a track left; yards give several at a time. Takes
 * what it gives from `free`.
 */
function chooseHomes(
  sites: readonly StationSite[],
  free: number[],
  trains: number,
  random: RandomStream,
): readonly number[] {
  const order = free.map((_, index) => index);
  for (let last = order.length - 1; last > 0; last -= 1) {
    const other = nextBetween(random, 0, last);
    [order[last], order[other]] = [order[other] ?? 0, order[last] ?? 0];
  }
  const homes: number[] = [];
  while (homes.length < trains) {
    for (const station of order) {
      const left = free[station] ?? 0;
      const most = sites[station]?.station.hidden === true ? FROM_YARD_AT_ONCE : 1;
      const given = Math.min(left, most, trains - homes.length);
      free[station] = left - given;
      for (let count = 0; count < given; count += 1) homes.push(station);
    }
  }
  return homes;
}

/** Services by train: as equal as can be, but none or at least two. */
function shareOut(services: number, trains: number): readonly number[] {
  const working = Math.min(trains, Math.floor(services / 2));
  return Array.from({ length: trains }, (_, index) => {
    if (index >= working) return 0;
    const each = Math.floor(services / working);
    return index < services - each * working ? each + 1 : each;
  });
}

function planWork(
  sites: readonly StationSite[],
  free: number[],
  home: number,
  services: number,
  random: RandomStream,
): Pick<TrainPlan, 'kind' | 'stops'> {
  if (nextChance(random, BALLOON_PERMILLE)) {
    const stops = balloonStops(sites, home, services);
    if (stops !== null) return { kind: 'balloon', stops };
  }
  if (services > 0 && services <= MOST_SERVICES_THROUGH && nextChance(random, THROUGH_PERMILLE)) {
    const stops = throughStops(sites, free, home, services, random);
    if (stops !== null) return { kind: 'through', stops };
  }
  return { kind: 'shuttle', stops: shuttleStops(sites, home, services, random) };
}

const near = (sites: readonly StationSite[], home: number): readonly number[] =>
  sites.flatMap(({ station }, index) =>
    index !== home && Math.abs(index - home) <= REACH && station.kind !== 'wayside' ? [index] : [],
  );

/** To a balloon loop and home again, with a stop half-way there or both ways; null where that can't be. */
function balloonStops(
  sites: readonly StationSite[],
  home: number,
  services: number,
): readonly number[] | null {
  if (sites[home]?.station.kind !== 'throat') return null;
  const loop = near(sites, home).find((index) => sites[index]?.station.balloon === true);
  if (loop === undefined) return null;
  const halfWay = near(sites, home).find((index) => (index - home) * (loop - index) > 0);
  if (services === 2) return [loop, home];
  if (halfWay === undefined) return null;
  if (services === 3) return [halfWay, loop, home];
  return services === 4 ? [halfWay, loop, halfWay, home] : null;
}

/** Out and home again; with an odd number, once by way of a third station. */
function shuttleStops(
  sites: readonly StationSite[],
  home: number,
  services: number,
  random: RandomStream,
): readonly number[] {
  const places = near(sites, home);
  const pick = (from: readonly number[]): number =>
    from[nextBetween(random, 0, from.length - 1)] ?? home;
  const stops: number[] = [];
  if (services % 2 === 1 && places.length > 1) {
    const first = pick(places);
    stops.push(first, pick(places.filter((it) => it !== first)), home);
  }
  while (stops.length + 2 <= services) stops.push(pick(places), home);
  return stops;
}

/** Stations on one side in order, the last of them with a track to keep for the train; null when there are none. */
function throughStops(
  sites: readonly StationSite[],
  free: number[],
  home: number,
  services: number,
  random: RandomStream,
): readonly number[] | null {
  const east = nextChance(random, 500);
  const ahead = near(sites, home)
    .filter((index) => index > home === east && sites[index]?.station.kind === 'throat')
    .sort((one, other) => Math.abs(one - home) - Math.abs(other - home))
    .slice(0, services);
  const last = ahead.at(-1);
  const left = last === undefined ? 0 : (free[last] ?? 0);
  if (last === undefined || ahead.length < services || left === 0) return null;
  free[last] = left - 1;
  return ahead;
}
