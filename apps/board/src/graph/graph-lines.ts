import type { RunView, TrainView } from '@blockbell/contract/messages';
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

/**
 * What it did, as run; and on from its last call as if nothing happened before the next, since nothing between calls is told:
 * both go on after now, and are to be seen only up to now.
 */
export interface RunLine {
  readonly points: readonly GraphPoint[];
  /** From its last departure towards the next station as booked, and waiting before it when it is late. */
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

/** How far a train that is late to the next station is drawn towards it, as a share of the way. */
const BEFORE_STATION = 0.95;
/** Fast-clock ms for a way that is booked to take no time. */
const LEAST_SPAN = 60_000;

/** `until`: fast-clock ms up to which it is drawn, the end of the graph. */
export function runLine(
  { calls }: RunView,
  timetable: Timetable,
  chainages: Chainages,
  until: number,
): RunLine {
  const points = runPoints(calls, timetable, chainages);
  const last = calls.at(-1);
  const end = points.at(-1);
  if (!last || !end) return { points, onTheWay: [] };
  const toTheEnd = (chainage: number, from: number): GraphPoint => ({
    fast: Math.max(until, from),
    chainage,
  });
  if (last.departed === null)
    return { points: [...points, toTheEnd(end.chainage, end.fast)], onTheWay: [] };
  const ahead = timetable.services[last.service]?.calls[last.call + 1];
  if (!ahead) return { points, onTheWay: [] };
  const span = plannedSpan(timetable, last.service, last.call);
  const target = chainages[ahead.station] ?? end.chainage;
  const late = {
    fast: last.departed + BEFORE_STATION * span,
    chainage: end.chainage + (target - end.chainage) * BEFORE_STATION,
  };
  return { points, onTheWay: [end, late, toTheEnd(late.chainage, late.fast)] };
}

/** What it was seen to do, in order. */
const runPoints = (
  calls: RunView['calls'],
  timetable: Timetable,
  chainages: Chainages,
): readonly GraphPoint[] =>
  calls.flatMap(({ service, call, arrived, departed }) => {
    const chainage = chainages[timetable.services[service]?.calls[call]?.station ?? -1] ?? 0;
    return [arrived, departed].flatMap((fast) => (fast === null ? [] : [{ fast, chainage }]));
  });

/**
 * What a train is expected to do, from the last it did on: to be seen only after now, where the line from there to the next call
 * passes now's place. Points at which it is expected to arrive are told apart.
 */
export interface ForecastLine {
  readonly points: readonly GraphPoint[];
  readonly arrivals: readonly GraphPoint[];
}

export function forecastLine(
  forecast: TrainView['forecast'],
  run: RunView,
  timetable: Timetable,
  chainages: Chainages,
): ForecastLine {
  const calls = (forecast?.calls ?? []).map(({ service, call, arrive, depart }) => {
    const chainage = chainages[timetable.services[service]?.calls[call]?.station ?? -1] ?? 0;
    const at = (fast: number | null): GraphPoint[] => (fast === null ? [] : [{ fast, chainage }]);
    return { arrive: at(arrive), depart: at(depart) };
  });
  if (calls.length === 0) return { points: [], arrivals: [] };
  const known = runPoints(run.calls, timetable, chainages).at(-1);
  return {
    points: [...(known ? [known] : []), ...calls.flatMap((it) => [...it.arrive, ...it.depart])],
    arrivals: calls.flatMap(({ arrive }) => arrive),
  };
}

/** Booked fast ms from the departure of a call to the arrival (or passing) of the next. */
function plannedSpan(timetable: Timetable, service: number, call: number): number {
  const from = timetable.services[service]?.calls[call];
  const to = timetable.services[service]?.calls[call + 1];
  const start = from?.depart ?? from?.arrive;
  const end = to?.arrive ?? to?.depart;
  return Math.max(LEAST_SPAN, start == null || end == null ? 0 : end - start);
}
