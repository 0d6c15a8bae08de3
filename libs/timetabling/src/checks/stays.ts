import type { World } from '@blockbell/railway';
import { changesFor } from '../booking/shift.js';
import { roundUp } from '../booking/times.js';
import { callOf } from '../booking/trips.js';
import type { TrainCourse } from '../conflicts/choose-ways.js';
import { weightOf, type Finding } from '../findings/finding.js';
import { clock, label, span, stationName } from '../findings/words.js';

/** Stops at which a train is booked to stay less than its least dwell, or has too little time to turn round. */
export const checkStays = (
  world: World,
  { trips, least }: Pick<TrainCourse, 'trips' | 'least'>,
  grain: number,
): Finding[] =>
  trips.slice(1).flatMap((next, i): Finding[] => {
    const before = trips[i]!;
    if (before.arrive === null || next.depart === null || next.from === null) return [];
    const missing = before.arrive + before.stay - next.depart;
    if (missing <= 0) return [];
    const { layout, timetable } = world;
    const { station } = callOf(world, next.from);
    const at = stationName(layout, station);
    const services = [next.from.service, before.to!.service].map(
      (service) => timetable.services[service]!.file.id as string,
    );
    const [id = '', earlier = ''] = services;
    const turns = before.endsService;
    const stay = next.depart - before.arrive;
    return [
      {
        kind: turns ? 'turn-round' : 'dwell',
        weight: stay < 0 ? 'breaks' : weightOf(missing),
        services: turns ? services : [id],
        place: at,
        stations: [layout.stations[station]!.file.id],
        from: Math.min(before.arrive, next.depart) as Finding['from'],
        until: Math.max(before.arrive, next.depart) as Finding['until'],
        missing,
        text: turns
          ? `${id} leaves ${at} at ${clock(next.depart)}, ${sinceArrival(stay)} ${earlier} has brought ` +
            `${label(world, before.train)} there at ${clock(before.arrive)}; it takes ${span(before.stay)} to be ready.`
          : `${id} (${label(world, before.train)}) is booked to stay ${stay < 0 ? 'less than no time' : span(stay)} at ${at}, ` +
            `from ${clock(before.arrive)}; its least dwell is ${span(before.stay)}.`,
        proposal: {
          text: `leave ${at} at ${clock(roundUp(before.arrive + before.stay, grain))} instead of ${clock(next.depart)}`,
          changes: changesFor(
            world,
            trips,
            least,
            { trip: i + 1, depart: before.arrive + before.stay },
            grain,
          ),
        },
      },
    ];
  });

const sinceArrival = (stay: number): string =>
  stay < 0 ? 'before' : `no more than ${span(stay)} after`;
