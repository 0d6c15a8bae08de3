import type { RunView } from '@blockbell/contract/messages';
import type { Service, Timetable } from '@blockbell/railway';

/** A point of the graph: fast-clock ms and chainage in kilometres. */
export interface GraphPoint {
  readonly fast: number;
  readonly chainage: number;
}

/** What one train is booked to do, one polyline a working. */
export interface PlannedLine {
  readonly train: number;
  readonly points: readonly GraphPoint[];
}

/** What it did: as run, and from the last departure on to now as planned, since nothing lies between calls. */
export interface RunLine {
  readonly train: number;
  readonly points: readonly GraphPoint[];
  readonly onTheWay: readonly GraphPoint[];
}

/** Chainage of each station by its index. */
export type Chainages = readonly number[];

export function plannedLines(timetable: Timetable, chainages: Chainages): readonly PlannedLine[] {
  return timetable.workings.flatMap((working, train) => {
    if (!working) return [];
    const points = working.services.flatMap((index) => {
      const service = timetable.services[index];
      return service ? bookedPoints(service, chainages) : [];
    });
    return points.length > 0 ? [{ train, points }] : [];
  });
}

function bookedPoints(service: Service, chainages: Chainages): readonly GraphPoint[] {
  return service.calls.flatMap(({ station, arrive, depart }) => {
    const chainage = chainages[station] ?? 0;
    return [arrive, depart].flatMap((fast) => (fast === null ? [] : [{ fast, chainage }]));
  });
}

/** `now`: fast-clock ms, where the line ends. */
export function runLine(
  { train, calls }: RunView,
  timetable: Timetable,
  chainages: Chainages,
  now: number,
): RunLine {
  const chainageOf = (service: number, call: number): number =>
    chainages[timetable.services[service]?.calls[call]?.station ?? -1] ?? 0;
  const points = calls.flatMap(({ service, call, arrived, departed }) =>
    [arrived, departed].flatMap((fast) =>
      fast === null ? [] : [{ fast, chainage: chainageOf(service, call) }],
    ),
  );
  const last = calls.at(-1);
  const end = points.at(-1);
  if (!last || !end) return { train, points, onTheWay: [] };
  if (last.departed === null)
    return { train, points: [...points, { fast: now, chainage: end.chainage }], onTheWay: [] };
  const ahead = timetable.services[last.service]?.calls[last.call + 1];
  if (!ahead) return { train, points, onTheWay: [] };
  const planned = plannedSpan(timetable, last.service, last.call);
  const share = planned > 0 ? Math.min(0.95, (now - last.departed) / planned) : 0.5;
  const target = chainages[ahead.station] ?? end.chainage;
  return {
    train,
    points,
    onTheWay: [end, { fast: now, chainage: end.chainage + (target - end.chainage) * share }],
  };
}

/** Booked fast ms from the departure of a call to the arrival (or passing) of the next; 0 where times are missing. */
function plannedSpan(timetable: Timetable, service: number, call: number): number {
  const from = timetable.services[service]?.calls[call];
  const to = timetable.services[service]?.calls[call + 1];
  const start = from?.depart ?? from?.arrive;
  const end = to?.arrive ?? to?.depart;
  return start == null || end == null ? 0 : end - start;
}
