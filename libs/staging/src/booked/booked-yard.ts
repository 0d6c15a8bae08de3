import { blockOf, slotsTaken, type StationIndex, type World } from '@blockbell/railway';
import type { Berth, Stay, Yard } from '../allocation/yard.js';
import { arrivals } from './arrivals.js';
import { directed, headingsTo, otherEnd, type DirectedTrack } from './track-ends.js';

/** How long after a booked departure its track is taken to be still in use, physical ms; common practice, no source. */
const CLEARING = 20_000;

/** A stay with what it is in the timetable. */
export interface BookedStay extends Stay {
  readonly train: number;
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
  const tracks = layout.stations[station]!.tracks.map(({ name, blocks }) => ({
    name,
    ...directed(layout, blocks),
  }));
  const stays = stock.trains.flatMap((_, train) => staysOf(world, train, station, tracks));
  const clearing = CLEARING * timetable.ratio;
  return {
    station,
    tracks: tracks.map(({ name, blocks }) => ({ id: name, room: blocks.length })),
    stays: stays.map((stay) => ({ ...stay, depart: stay.depart + clearing })),
  };
}

type NamedTrack = DirectedTrack & { readonly name: string };

function staysOf(
  world: World,
  train: number,
  station: StationIndex,
  tracks: readonly NamedTrack[],
): BookedStay[] {
  const { timetable, graphs, stock } = world;
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
    const depart = departureFrom(world, train, at);
    const from = arrive ?? -Infinity;
    return [
      {
        id: `${label}, stop ${at}`,
        train,
        calls: stop.calls,
        arrive: from,
        depart: Math.max(depart ?? Infinity, from + 1),
        booked: { arrive, depart },
        berths: berthsAt(world, train, at, tracks, places[at]!),
      },
    ];
  });
}

/** When a train is booked to leave a stop of its work: there, or, where nothing says so, before it is due at the next. */
function departureFrom({ timetable, graphs }: World, train: number, at: number): number | null {
  const { stops } = graphs[train]!;
  if (at + 1 >= stops.length) return null;
  const times = (stop: (typeof stops)[number]) =>
    stop.calls.map(({ service, call }) => timetable.services[service]!.calls[call]!);
  const own = times(stops[at]!).at(-1);
  const [next] = times(stops[at + 1]!);
  return own?.depart ?? next?.arrive ?? next?.depart ?? timetable.start;
}

/** Where a train may stand at a stop, of the places that it can come to there. */
function berthsAt(
  { layout, graphs, stock }: World,
  train: number,
  at: number,
  tracks: readonly NamedTrack[],
  places: readonly number[],
): Berth[] {
  const graph = graphs[train]!;
  const wanted = graph.stops[at]!.tracks.map(({ name }) => name);
  const berths = new Map<string, Berth>();
  for (const node of places) {
    const { heading } = graph.placeOf(node);
    const index = tracks.findIndex(({ ends }) => ends.has(heading));
    const track = tracks[index];
    if (track === undefined) continue;
    const end = track.ends.get(heading)!;
    const [foremost] = headingsTo(layout, track, end);
    const slots = slotsTaken(layout, track.blocks, foremost!, stock.trains[train]!.length);
    if (slots === null) continue;
    const entry = otherEnd(end);
    const [move] = graph.moves(node);
    const out = move !== undefined && graph.meaningOf(node, move.to).reverses ? entry : end;
    const cost = Math.max(0, wanted.indexOf(track.name));
    berths.set(`${index}${entry}${out}`, {
      track: index,
      in: entry,
      out,
      needs: slots.length,
      cost,
    });
  }
  return [...berths.values()];
}
