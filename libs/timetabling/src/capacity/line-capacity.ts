import type { World } from '@blockbell/railway';
import { callOf } from '../booking/trips.js';
import type { ExaminedTimetable } from '../check-timetable.js';
import type { ChosenWay } from '../conflicts/choose-ways.js';
import type { Hold } from '../conflicts/occupation.js';
import { compressedTime } from './compression.js';

/** How much of a stretch of line its trains take up. */
export interface StretchCapacity {
  /** Ids of the stations at its ends. */
  readonly stations: readonly [string, string];
  readonly place: string;
  readonly trains: number;
  /** Fast ms the trains take up when pushed together, and of the period. */
  readonly taken: number;
  readonly period: number;
  /** Permille of the period. */
  readonly share: number;
}

/** A train's path over a stretch: what it holds there, fast ms from its entry. */
interface Path {
  readonly entry: number;
  readonly holds: readonly Hold[];
}

/**
 * Capacity taken on each stretch between neighbouring stations, by compression: the blocking times of the trains as booked,
 * pushed together in their order. Station tracks are left out. The period is the session's.
 */
export function lineCapacity({ world, chosen }: ExaminedTimetable): StretchCapacity[] {
  const { layout, timetable } = world;
  const inStations = new Set(
    layout.stations.flatMap(({ tracks }) => tracks.flatMap(({ blocks }) => blocks)),
  );
  const stretches = new Map<string, { readonly ends: readonly [number, number]; paths: Path[] }>();
  for (const ways of chosen) {
    for (const way of ways) {
      const points = pointsOf(world, way);
      points.slice(1).forEach((end, i) => {
        const start = points[i]!;
        if (start.station === end.station) return;
        const ends = [start.station, end.station].sort((a, b) => a - b) as [number, number];
        const key = ends.join();
        const stretch = stretches.get(key) ?? { ends, paths: [] };
        stretches.set(key, stretch);
        const holds = way.holds.filter(
          ({ resource, from, to }) => !inStations.has(resource) && from < end.at && to > start.at,
        );
        stretch.paths.push({
          entry: start.at,
          holds: holds.map(({ resource, from, to }) => ({
            resource,
            from: from - start.at,
            to: to - start.at,
          })),
        });
      });
    }
  }
  const period = timetable.end - timetable.start;
  return [...stretches.values()]
    .map(({ ends, paths }) => {
      paths.sort((a, b) => a.entry - b.entry);
      const taken = Math.ceil(
        compressedTime(paths.length, (a, b) => headway(paths[a]!, paths[b]!)),
      );
      const [a, b] = ends.map((station) => layout.stations[station]!.file);
      return {
        stations: [a!.id, b!.id] as const,
        place: `${a!.name} – ${b!.name}`,
        trains: paths.length,
        taken,
        period,
        share: Math.round((1000 * taken) / period),
      };
    })
    .sort((a, b) => b.share - a.share || (a.place < b.place ? -1 : 1));
}

/** Where a trip is when: its stations, those passed included; fast ms. */
function pointsOf(
  world: World,
  { trip, times }: ChosenWay,
): { readonly station: number; readonly at: number }[] {
  const at = (call: NonNullable<typeof trip.from>, time: number) => ({
    station: callOf(world, call).station,
    at: time,
  });
  return [
    ...(trip.from === null ? [] : [at(trip.from, times.departs)]),
    ...trip.passes.map(({ call, at: time }) => at(call, time)),
    ...(trip.to === null ? [] : [at(trip.to, times.arrives)]),
  ];
}

/** How long after the first train's entry the second may enter at the earliest. */
function headway(first: Path, second: Path): number {
  let least = 0;
  for (const { resource, to } of first.holds)
    for (const own of second.holds)
      if (own.resource === resource) least = Math.max(least, to - own.from);
  return least;
}
