import {
  berthsOf,
  blockOf,
  bookedToLeave,
  yardTracks,
  type NamedTrack,
  type StationIndex,
  type World,
} from '@blockbell/railway';
import type { Stay, Yard } from '../allocation/yard.js';
import { arrivals } from './arrivals.js';

/** How long after a booked departure its track is taken to be still in use, physical ms; common practice, no source. */
export const CLEARING = 20_000;

/** A stay with what it is in the timetable. */
export interface BookedStay extends Stay {
  readonly train: number;
  /** Index of the stop of its work. */
  readonly stop: number;
  /** The calls made there, by service and call: none for a train that stands there and has no call. */
  readonly calls: readonly { readonly service: number; readonly call: number }[];
  /** Fast-clock ms since midnight; null: before the session, or never in it. */
  readonly booked: { readonly arrive: number | null; readonly depart: number | null };
}

/** The stays of a whole timetable in one yard. Times are fast-clock ms, room is in blocks. */
export interface BookedYard extends Yard {
  readonly station: StationIndex;
  readonly stays: readonly BookedStay[];
}

/** What the timetable books in a yard: who stands there from when to when, and in which tracks it may. */
export function bookedYard(world: World, station: StationIndex): BookedYard {
  const { layout, timetable, stock } = world;
  const tracks = yardTracks(layout, station);
  const stays = stock.trains.flatMap((_, train) => staysOf(world, train, station, tracks));
  const clearing = CLEARING * timetable.ratio;
  return {
    station,
    tracks: tracks.map(({ name, blocks }) => ({ id: name, room: blocks.length })),
    stays: stays.map((stay) => ({ ...stay, depart: stay.depart + clearing })),
  };
}

function staysOf(
  world: World,
  train: number,
  station: StationIndex,
  tracks: readonly NamedTrack[],
): BookedStay[] {
  const { layout, timetable, graphs, stock } = world;
  const graph = graphs[train]!;
  const start = timetable.storedPlaces[train] ?? null;
  if (start === null) return [];
  const { label } = stock.trains[train]!.file;
  const places = arrivals(graph);
  return graph.stops.flatMap((stop, at): BookedStay[] => {
    const booked = stop.calls.map(({ service, call }) => timetable.services[service]!.calls[call]!);
    const isHere =
      at === 0
        ? tracks.some(({ blocks }) => blocks.includes(blockOf(start)))
        : booked.some((call) => call.station === station);
    if (!isHere) return [];
    const arrive = at === 0 ? null : (booked[0]?.arrive ?? booked[0]?.depart ?? null);
    const depart = bookedToLeave(world, train, at);
    const from = arrive ?? -Infinity;
    return [
      {
        id: `${label}, stop ${at}`,
        train,
        stop: at,
        calls: stop.calls,
        arrive: from,
        depart: Math.max(depart ?? Infinity, from + 1),
        booked: { arrive, depart },
        berths: berthsOf(layout, stock.trains[train]!, graph, at, tracks, places[at]!),
      },
    ];
  });
}
