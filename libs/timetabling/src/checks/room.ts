import { standingPlaces, type World } from '@blockbell/railway';
import { changesFor } from '../booking/shift.js';
import { callOf, type Trip } from '../booking/trips.js';
import type { TrainCourse } from '../conflicts/choose-ways.js';
import type { Finding } from '../findings/finding.js';
import { clock, label, span, stationName } from '../findings/words.js';

/** A train standing at a station; fast ms, `until` Infinity to the end. */
interface Stand {
  readonly train: number;
  readonly from: number;
  readonly until: number;
  /** The blocks it may take, each set as a whole. */
  readonly places: readonly (readonly number[])[];
  /** The trip that brings it there; −1: it stands there from the beginning. */
  readonly trip: number;
  readonly service: number;
}

/** Tries to place trains before giving up; far more than any yard of a model needs. */
const MOST_TRIES = 20_000;

/** Moments at which a station or yard has fewer places than trains that are booked to stand there. */
export const checkRoom = (
  world: World,
  trips: readonly (readonly Trip[])[],
  courses: readonly (TrainCourse | null)[],
  grain: number,
): Finding[] =>
  world.layout.stations.flatMap(({ index: station }) => {
    const stands = trips.flatMap((own) => standsAt(world, own, station));
    return stands.flatMap((stand): Finding[] => {
      if (stand.trip < 0) return [];
      const there = stands.filter(
        (it) => it === stand || (it.from < stand.from && it.until > stand.from),
      );
      if (fits(there)) return [];
      return fits(there.filter((it) => it !== stand))
        ? [findingOf(world, courses, station, stand, there, grain)]
        : [];
    });
  });

function standsAt(world: World, trips: readonly Trip[], station: number): Stand[] {
  return trips.flatMap((trip, index): Stand[] => {
    const found: Stand[] = [];
    const add = (at: Trip['to'], from: number, until: number, arrivedBy: number): void => {
      if (at === null || callOf(world, at).station !== station) return;
      const { length } = world.stock.trains[trip.train]!;
      const { tracks } = callOf(world, at);
      const places = tracks.flatMap(({ blocks }) => standingPlaces(world.layout, blocks, length));
      if (places.length === 0) return;
      found.push({ train: trip.train, from, until, places, trip: arrivedBy, service: at.service });
    };
    if (index === 0) add(trip.from, -Infinity, trip.depart ?? -Infinity, -1);
    const until = trips[index + 1]?.depart ?? Infinity;
    if (trip.arrive !== null) add(trip.to, trip.arrive, until, index);
    return found;
  });
}

/** Whether all trains find a place at once. */
function fits(stands: readonly Stand[]): boolean {
  const order = [...stands].sort((a, b) => a.places.length - b.places.length || a.train - b.train);
  const taken = new Set<number>();
  let tries = 0;
  const place = (at: number): boolean => {
    if (at === order.length) return true;
    for (const blocks of order[at]!.places) {
      if (tries++ > MOST_TRIES) return true;
      if (blocks.some((block) => taken.has(block))) continue;
      blocks.forEach((block) => taken.add(block));
      if (place(at + 1)) return true;
      blocks.forEach((block) => taken.delete(block));
    }
    return false;
  };
  return place(0);
}

function findingOf(
  world: World,
  courses: readonly (TrainCourse | null)[],
  station: number,
  stand: Stand,
  there: readonly Stand[],
  grain: number,
): Finding {
  const { layout, timetable } = world;
  const name = stationName(layout, station);
  const idOf = (it: Stand): string => timetable.services[it.service]!.file.id;
  const others = there.filter((it) => it !== stand);
  const leaving = [...others].sort((a, b) => a.until - b.until || a.train - b.train);
  const freed = leaving.find(
    (gone) =>
      gone.until < Infinity && fits(there.filter((it) => it.until > gone.until || it === stand)),
  );
  const course = courses[stand.train];
  const changes =
    freed === undefined || course == null
      ? []
      : changesFor(
          world,
          course.trips,
          course.least,
          { trip: stand.trip, arrive: freed.until + grain },
          grain,
        );
  const id = idOf(stand);
  const isYard = layout.stations[station]!.file.kind === 'staging-yard';
  return {
    kind: 'no-room',
    weight: 'breaks',
    services: [id, ...others.map(idOf)],
    place: name,
    stations: [layout.stations[station]!.file.id],
    from: stand.from as Finding['from'],
    until: (freed?.until ?? Math.max(stand.from, timetable.end)) as Finding['until'],
    missing: 1,
    text:
      `When ${id} (${label(world, stand.train)}) is booked to arrive at ${name} at ${clock(stand.from)}, ` +
      `no track is left for it in the ${isYard ? 'yard' : 'station'}: ${list(
        others.map((it) => label(world, it.train)),
      )} ${others.length === 1 ? 'stands' : 'stand'} there.`,
    proposal: {
      text:
        freed === undefined
          ? `let ${id} end elsewhere, or let another train leave ${name} before`
          : `let ${id} arrive at ${clock(freed.until + grain)}, ${span(freed.until + grain - stand.from)} later, ` +
            `when ${label(world, freed.train)} has left`,
      changes,
    },
  };
}

const list = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
