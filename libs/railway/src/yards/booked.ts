import type { World } from '../session/world.js';

/** When a train is booked to leave a stop of its work: there, or, where nothing says so, before it is due at the next. */
export function bookedToLeave(
  { timetable, graphs }: World,
  train: number,
  at: number,
): number | null {
  const { stops } = graphs[train]!;
  if (at + 1 >= stops.length) return null;
  const times = (stop: (typeof stops)[number]) =>
    stop.calls.map(({ service, call }) => timetable.services[service]!.calls[call]!);
  const own = times(stops[at]!).at(-1);
  const [next] = times(stops[at + 1]!);
  return own?.depart ?? next?.arrive ?? next?.depart ?? timetable.start;
}
