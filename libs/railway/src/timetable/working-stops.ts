import { blockOf, type ElementIndex, type Heading } from '../layout/layout.js';
import type { Call, Timetable, Working } from './timetable.js';

/** A call of a service, by index into the timetable and into the service's calls. */
export interface CallRef {
  readonly service: number;
  readonly call: number;
}

/** A place a train comes to on its working. Leg `k` leads from stop `k` to stop `k + 1`. */
export interface Stop {
  /**
   * The call made there; two where one service ends and the next begins without a move; none where the train
   * stands away from its first call.
   */
  readonly calls: readonly CallRef[];
  /** Whether the train stops there or only passes. */
  readonly stops: boolean;
  /** Where it may stand or pass, in order of preference; empty for the place where it stands at the start. */
  readonly tracks: readonly { readonly name: string; readonly blocks: readonly ElementIndex[] }[];
}

/**
 * All that a working asks of its train, in order; the first stop is where the train stands. A train that is not on
 * the layout yet (`start` null) will stand at its first call.
 */
export function stopsOf(
  timetable: Timetable,
  working: Working | null,
  start: Heading | null,
): Stop[] {
  const stops: Stop[] = [{ calls: [], stops: true, tracks: [] }];
  for (const service of working?.services ?? []) {
    timetable.services[service]!.calls.forEach((call, index) => {
      const last = stops[stops.length - 1]!;
      const at = { service, call: index };
      const joined = index > 0 ? null : joinedAt(timetable, last, call, start);
      if (joined === null) stops.push({ calls: [at], stops: call.stops, tracks: call.tracks });
      else stops[stops.length - 1] = { calls: [...last.calls, at], stops: true, tracks: joined };
    });
  }
  return stops;
}

/** Tracks where a service can begin at the stop already reached; null if the train must move there first. */
function joinedAt(
  timetable: Timetable,
  stop: Stop,
  { station, tracks }: Call,
  start: Heading | null,
): Stop['tracks'] | null {
  const [before] = stop.calls.slice(-1);
  if (before === undefined) {
    const stands = start !== null && tracks.some(({ blocks }) => blocks.includes(blockOf(start)));
    return stands ? [] : null;
  }
  if (timetable.services[before.service]!.calls[before.call]!.station !== station) return null;
  if (stop.tracks.length === 0) return [];
  const allowed = new Set(tracks.flatMap(({ blocks }) => blocks));
  const shared = stop.tracks.filter(({ blocks }) => blocks.every((block) => allowed.has(block)));
  return shared.length === 0 ? null : shared;
}
