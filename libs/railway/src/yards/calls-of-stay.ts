import type { World } from '../session/world.js';
import type { CallRef } from '../timetable/working-stops.js';

/** The calls that a train makes while it is in a yard: where its service ends there, also where its next one begins. */
export function callsOfStay(
  { graphs, timetable }: Pick<World, 'graphs' | 'timetable'>,
  train: number,
  stop: number,
): readonly CallRef[] {
  const { stops } = graphs[train]!;
  const calls = stops[stop]?.calls ?? [];
  const last = calls.at(-1);
  const next = stops[stop + 1]?.calls[0];
  const stationOf = ({ service, call }: CallRef): number =>
    timetable.services[service]!.calls[call]!.station;
  // Where the tracks of both have nothing in common, the train has to move between them, and there are two stops.
  const beginsHere = last !== undefined && next?.call === 0 && stationOf(next) === stationOf(last);
  return beginsHere ? [...calls, next] : calls;
}

/** Whether a service of a stay connects with another one at a station. */
export const connectsAt = (
  { timetable }: Pick<World, 'timetable'>,
  calls: readonly CallRef[],
  station: number,
): boolean =>
  timetable.connections.some(
    (it) =>
      it.station === station &&
      calls.some(({ service }) => service === it.from || service === it.to),
  );
