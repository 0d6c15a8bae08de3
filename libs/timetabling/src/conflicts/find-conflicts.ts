import type { World } from '@blockbell/railway';
import { changesFor } from '../booking/shift.js';
import { roundUp } from '../booking/times.js';
import { callOf, serviceOf } from '../booking/trips.js';
import { weightOf, type Finding, type Proposal } from '../findings/finding.js';
import { clock, label, span, stationName, trackName } from '../findings/words.js';
import type { ChosenWay, TrainCourse } from './choose-ways.js';
import { TrackBook, type Overlap } from './track-book.js';

interface Meeting {
  /** Who is on the track first, and who comes while it is there. */
  readonly first: ChosenWay;
  readonly second: ChosenWay;
  readonly resource: number;
  readonly from: number;
  readonly until: number;
}

/** The overlaps that no choice of ways and paces avoids, one finding for each two services and place. */
export function findConflicts(
  world: World,
  courses: readonly (TrainCourse | null)[],
  chosen: readonly (readonly ChosenWay[])[],
  grain: number,
): Finding[] {
  const book = new TrackBook();
  chosen.forEach((ways, train) => {
    for (const { index, holds } of ways) book.add(train, index, holds);
  });
  const meetings = new Map<string, Meeting>();
  chosen.forEach((ways, train) => {
    for (const way of ways) {
      for (const overlap of book.overlaps(train, way.holds)) {
        if (overlap.other.train < train) continue;
        const other = chosen[overlap.other.train]![overlap.other.trip]!;
        const meeting = meetingOf(way, other, overlap);
        const key = [serviceOf(way.trip), serviceOf(other.trip)].join(' ');
        const known = meetings.get(key);
        if (known === undefined || lasts(known) < lasts(meeting)) meetings.set(key, meeting);
      }
    }
  });
  return [...meetings.values()].map((meeting) => findingOf(world, courses, meeting, grain));
}

const lasts = ({ from, until }: Meeting): number => until - from;

function meetingOf(own: ChosenWay, other: ChosenWay, overlap: Overlap): Meeting {
  const { hold, other: entry } = overlap;
  const isFirst = hold.from < entry.from || (hold.from === entry.from && hold.to <= entry.to);
  return {
    first: isFirst ? own : other,
    second: isFirst ? other : own,
    resource: hold.resource,
    from: Math.max(hold.from, entry.from),
    until: Math.min(hold.to, entry.to),
  };
}

function findingOf(
  world: World,
  courses: readonly (TrainCourse | null)[],
  meeting: Meeting,
  grain: number,
): Finding {
  const { layout, timetable } = world;
  const { first, second, resource, from, until } = meeting;
  const services = [second, first].map(({ trip }) => timetable.services[serviceOf(trip)]!.file);
  const stations = stationsOf(world, second);
  const names = stations.map((station) => stationName(layout, station));
  const where = trackName(layout, resource);
  const isAtStation = names.some((name) => where.startsWith(`${name} track`));
  const place = isAtStation ? where : `${where}, between ${names.join(' and ')}`;
  // Who ends there stays: what both are booked for lasts as long as the session, or begins after it.
  const end = until < Infinity ? until : Math.max(from, timetable.end);
  return {
    kind: 'track-conflict',
    weight: weightOf(until - from),
    services: services.map(({ id }) => id),
    place,
    stations: stations.map((station) => layout.stations[station]!.file.id),
    from: Math.floor(from) as Finding['from'],
    until: Math.ceil(end) as Finding['until'],
    missing: Math.ceil(end - from),
    text:
      `${services[0]!.id} (${label(world, second.trip.train)}) and ${services[1]!.id} ` +
      `(${label(world, first.trip.train)}) are both booked on ${place} from ${clock(from)} to ` +
      `${clock(end)} (${span(end - from)}); no choice of permitted ways avoids it.`,
    proposal: proposalFor(world, courses, meeting, grain),
  };
}

/** The stations a trip runs between. */
function stationsOf(world: World, { trip }: ChosenWay): number[] {
  const calls = [trip.from, trip.to].flatMap((at) => (at === null ? [] : [callOf(world, at)]));
  return [...new Set(calls.map(({ station }) => station))];
}

/** Lets one of the two leave so much later that the other is gone: the one that has to wait less. */
function proposalFor(
  world: World,
  courses: readonly (TrainCourse | null)[],
  { first, second }: Meeting,
  grain: number,
): Proposal {
  const [wish] = [
    { late: second, delay: delayAfter(second, first) },
    { late: first, delay: delayAfter(first, second) },
  ]
    .filter(({ late, delay }) => delay < Infinity && late.trip.from !== null)
    .sort((a, b) => a.delay - b.delay);
  const [id, other] = [second, first].map(
    (it) => world.timetable.services[serviceOf(it.trip)]!.file.id,
  );
  if (wish === undefined)
    return { text: `end ${other} on another track, or take ${id} out`, changes: [] };
  const { trip, index, times } = wish.late;
  const { trips, least } = courses[trip.train]!;
  const depart = times.departs + wish.delay;
  const changes = changesFor(world, trips, least, { trip: index, depart }, grain);
  const { station } = callOf(world, trip.from!);
  const service = world.timetable.services[trip.from!.service]!.file.id;
  const name = stationName(world.layout, station);
  const { depart: booked } = callOf(world, trip.from!);
  return {
    text: `let ${service} leave ${name} at ${clock(roundUp(depart, grain))} instead of ${clock(booked!)}`,
    changes,
  };
}

/** How much later one would have to leave to find the other gone wherever they now meet, fast ms. */
function delayAfter(late: ChosenWay, other: ChosenWay): number {
  let delay = 0;
  for (const own of late.holds)
    for (const there of other.holds)
      if (there.resource === own.resource && there.to > own.from && there.from < own.to)
        delay = Math.max(delay, there.to - own.from);
  return delay;
}
