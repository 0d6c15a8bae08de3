import { callBefore, type World } from '@blockbell/railway';
import type { BookedYard } from '../booked/booked-yard.js';

/** By stay: the station that its train goes to next, on leaving the yard; null: it goes nowhere. */
export const placesAhead = (world: World, { stays }: BookedYard): (number | null)[] =>
  stays.map(({ train, stop }) => {
    const next = world.graphs[train]!.stops[stop + 1]?.calls[0];
    return next === undefined
      ? null
      : world.timetable.services[next.service]!.calls[next.call]!.station;
  });

/** How many other trains are booked to be at a station, or on their way to it, at a moment of the fast clock. */
export const trainsBookedAt = (world: World, station: number, fast: number, but: number): number =>
  world.graphs.filter((graph, train) => {
    if (train === but) return false;
    const calls = graph.stops.map((_, leg) => callBefore(world, train, leg));
    return (
      calls.find((call) => call !== null && (call.depart ?? Infinity) > fast)?.station === station
    );
  }).length;
