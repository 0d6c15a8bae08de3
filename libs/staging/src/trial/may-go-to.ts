import {
  berthsOf,
  callsOfStay,
  connectsAt,
  yardTracks,
  type StationId,
  type World,
} from '@blockbell/railway';
import { arrivals } from '../booked/arrivals.js';
import type { BookedStay } from '../booked/booked-yard.js';

/** Whether a train's work lets it make a stay in another yard than booked: a way there and on, a track that holds it, no connection. */
export function mayGoTo(world: World, { train, stop }: BookedStay, yard: StationId): boolean {
  const { layout, stock, timetable, book } = world;
  const station = layout.stations.findIndex(({ file }) => file.id === yard);
  const calls = callsOfStay(world, train, stop);
  const [first] = calls;
  if (first === undefined) return false;
  const { station: booked } = timetable.services[first.service]!.calls[first.call]!;
  if (connectsAt(world, calls, booked)) return false;
  const elsewhere = calls.map((ref) => ({ train, ...ref, station, why: '' }));
  const added = { ...world.added, elsewhere: [...world.added.elsewhere, ...elsewhere] };
  const graph = book.with(added).graphs[train]!;
  const at = graph.stops.findIndex((it) =>
    it.calls.some(({ service, call }) => service === first.service && call === first.call),
  );
  const berths = berthsOf(
    layout,
    stock.trains[train]!,
    graph,
    at,
    yardTracks(layout, station),
    arrivals(graph)[at]!,
  );
  book.forget(added);
  return berths.length > 0;
}
