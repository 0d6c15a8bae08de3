import type { World } from '@blockbell/railway';
import { changesFor } from '../booking/shift.js';
import { callOf, serviceOf, type Trip } from '../booking/trips.js';
import { roundUp } from '../booking/times.js';
import type { TrainCourse } from '../conflicts/choose-ways.js';
import { weightOf, type Finding } from '../findings/finding.js';
import { clock, label, span, stationName } from '../findings/words.js';

/** Trips booked in less time than the quickest permitted way takes. */
export const checkRunningTimes = (world: World, course: TrainCourse, grain: number): Finding[] =>
  course.trips.flatMap((trip, index) => {
    const { depart, arrive, from, to } = trip;
    const least = course.least[index]!;
    if (depart === null || from === null || to === null) return [];
    const passed = trip.passes.flatMap(({ leg, call, at }) => {
      const needed = least.passes.get(leg) ?? 0;
      return at - depart < needed ? [{ needed, call, at }] : [];
    });
    const arrived =
      arrive !== null && arrive - depart < least.run
        ? [{ needed: least.run, call: to, at: arrive }]
        : [];
    const [worst] = [...arrived, ...passed].sort(
      (a, b) => depart + b.needed - b.at - (depart + a.needed - a.at),
    );
    return worst === undefined ? [] : [findingOf(world, course, trip, index, worst, grain)];
  });

function findingOf(
  world: World,
  { trips, least }: TrainCourse,
  trip: Trip,
  index: number,
  { needed, call, at }: { needed: number; call: { service: number; call: number }; at: number },
  grain: number,
): Finding {
  const { layout, timetable } = world;
  const depart = trip.depart!;
  const from = callOf(world, trip.from!).station;
  const to = callOf(world, call).station;
  const { id } = timetable.services[serviceOf(trip)]!.file;
  const missing = depart + needed - at;
  const [start, end] = [stationName(layout, from), stationName(layout, to)];
  const arrives = call === trip.to;
  return {
    kind: 'running-time',
    weight: weightOf(missing),
    services: [id],
    place: `${start} to ${end}`,
    stations: [from, to].map((station) => layout.stations[station]!.file.id),
    from: depart as Finding['from'],
    until: Math.max(at, depart) as Finding['until'],
    missing,
    text:
      `${id} (${label(world, trip.train)}) is booked in ${span(Math.max(0, at - depart))} from ${start} to ${end}; ` +
      `over its quickest permitted way it takes ${span(needed)}, ${span(missing)} more.`,
    proposal: {
      text: `${arrives ? 'arrive at' : 'pass'} ${end} at ${clock(roundUp(depart + needed, grain))} instead of ${clock(at)}`,
      changes: changesFor(world, trips, least, { trip: index }, grain),
    },
  };
}
