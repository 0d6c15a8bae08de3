import { callFrom, type World } from '@blockbell/railway';
import type { Situation } from '../situation/situation.js';
import { ARRIVING } from './choices.js';
import type { PlacesAhead } from './places.js';
import type { Awaited, Draft } from './train-plan.js';
import { ticks } from './units.js';

/** What is known of the arrivals that connecting services wait for. */
export interface KnownArrivals {
  /** By connection, ms from now: arrived, or sure to arrive then; null: not known. */
  readonly at: readonly (number | null)[];
  /** By connection: the train whose arrival the plan decides, and the stop of its work where it arrives; null: none. */
  readonly planned: readonly (FeederStop | null)[];
}

export interface FeederStop {
  readonly train: number;
  readonly stop: number;
}

/** For each connection of the timetable: has its first service arrived, will it within the plan, or is it further away? */
export function knownArrivals(
  { timetable, graphs }: World,
  { fast, ratio, arrivals, trains }: Situation,
  aheads: readonly (PlacesAhead | null)[],
): KnownArrivals {
  const at: (number | null)[] = arrivals.map((time) =>
    time === null ? null : (time - fast) / ratio,
  );
  const planned = timetable.connections.map(({ from, station }, connection): FeederStop | null => {
    if (at[connection] !== null) return null;
    const train = timetable.workings.findIndex((working) => working?.services.includes(from));
    const state = trains[train];
    const ahead = aheads[train];
    if (!state || !ahead) return null;
    const stop = graphs[train]!.stops.findIndex(({ calls }) =>
      calls.some(
        ({ service, call }) =>
          service === from && timetable.services[service]!.calls[call]!.station === station,
      ),
    );
    if (stop <= state.place.leg) {
      at[connection] = state.arrives + ARRIVING;
      return null;
    }
    return stop <= ahead.endLeg ? { train, stop } : null;
  });
  return { at, planned };
}

/**
 * When a train may leave a call because of connections: having waited for those whose arrivals the plan decides, or when
 * they are waited for no more.
 * @param at when it may leave otherwise, ms
 */
export function departureConnections(
  { timetable, graphs }: World,
  { fast, ratio }: Situation,
  known: KnownArrivals,
  train: number,
  leg: number,
  at: number,
): { readonly at: number; readonly awaits: readonly number[] }[] {
  const from = callFrom(graphs[train]!, leg);
  if (from === null) return [{ at, awaits: [] }];
  const { station, depart } = timetable.services[from.service]!.calls[from.call]!;
  let ready = at;
  let patience = at;
  const awaits: number[] = [];
  timetable.connections.forEach((connection, index) => {
    if (connection.to !== from.service || connection.station !== station) return;
    const until = ((depart ?? fast) + connection.holdAtMost - fast) / ratio;
    const arrival = known.at[index] ?? null;
    if (arrival !== null)
      ready = Math.max(ready, Math.min(until, arrival + connection.transfer / ratio));
    else if (known.planned[index] === null) ready = Math.max(ready, until);
    else {
      awaits.push(index);
      patience = Math.max(patience, until);
    }
  });
  if (awaits.length === 0) return [{ at: ready, awaits }];
  return [
    { at: ready, awaits },
    { at: Math.max(ready, patience), awaits: [] },
  ];
}

/** The operations of a train in which others still wait for its arrival, and how long after them they go on waiting. */
export function awaitedIn(
  { timetable }: World,
  { ratio }: Situation,
  known: KnownArrivals,
  train: number,
  drafts: readonly Draft[],
): Awaited[] {
  return known.planned.flatMap((feeder, connection) => {
    if (feeder?.train !== train) return [];
    const operations: number[] = [];
    let run = 0;
    drafts.forEach(({ meaning }, operation) => {
      if (meaning.kind === 'begin') operations.push(operation);
      if (meaning.kind !== 'route' && meaning.kind !== 'place') return;
      if (meaning.leg < feeder.stop) operations.push(operation);
      else if (meaning.kind === 'place' && meaning.leg === feeder.stop)
        run = Math.max(run, meaning.run);
    });
    const { transfer } = timetable.connections[connection]!;
    return [{ connection, operations, release: ticks(run + ARRIVING + transfer / ratio) }];
  });
}
