import {
  connectionResource,
  delayWeight,
  TICK,
  ticks,
  withResources,
  type Awaited,
  type Draft,
  type TrainPlan,
} from '@blockbell/planning';
import type { DelayComponent, Operation, Plan, PlanEvent, Problem } from '@blockbell/scheduling';
import type { ExaminedTimetable } from '../check-timetable.js';
import type { ChosenWay } from '../conflicts/choose-ways.js';

/** How far departures may move, fast ms. */
export interface ShiftBounds {
  readonly earlier: number;
  readonly later: number;
}

/** Where a trip stands in the problem: the operations that start at its departure and at its arrival. */
export interface TripOperations {
  readonly chosen: ChosenWay;
  readonly depart: number;
  readonly arrive: number;
}

/** Who goes when over the ways chosen, as a scheduling problem; times in ticks from the session's start. */
export interface ShiftProblem {
  readonly problem: Problem;
  /** By train of the problem, its trips in order. */
  readonly trips: readonly (readonly TripOperations[])[];
  /** The booked times as a wish to begin with. */
  readonly wish: Plan;
}

/** Costs a tick of shift by the train's priority; nothing up to the booked time. */
export function shiftProblem(
  { world }: Pick<ExaminedTimetable, 'world'>,
  chosen: readonly (readonly ChosenWay[])[],
  bounds: ShiftBounds,
): ShiftProblem {
  const { timetable, stock } = world;
  const inTicks = (fast: number): number => ticks((fast - timetable.start) / timetable.ratio);
  const span = (fast: number): number => ticks(fast / timetable.ratio);
  const end = inTicks(timetable.end) + span(bounds.later) + 1;
  const objective: DelayComponent[] = [];
  const plans: TrainPlan[] = [];
  const trips: TripOperations[][] = [];
  const latest: Map<number, number>[] = [];
  const events: PlanEvent[] = [];

  chosen.forEach((ways, train) => {
    if (ways.length === 0) return;
    const number = plans.length;
    const coeff = delayWeight(stock.trains[train]!.file.priority);
    const drafts: Draft[] = [];
    const own: TripOperations[] = [];
    const limits = new Map<number, number>();
    const push = (startLb: number, minDuration: number, holds: readonly number[]): number => {
      const meaning = { kind: 'begin' } as const;
      return (
        drafts.push({ startLb, minDuration, holds, meaning, successors: [drafts.length + 1] }) - 1
      );
    };
    const cost = (operation: number, booked: number): void => {
      const threshold = inTicks(booked);
      objective.push({
        type: 'op_delay',
        train: number,
        operation,
        threshold,
        coeff,
        increment: 0,
      });
    };
    push(0, 0, ways[0]!.way.before);
    events.push({ time: 0, train: number, operation: 0 });
    for (const it of ways) {
      const { trip, way, index } = it;
      const { departs } = it.times;
      const first = drafts.length;
      way.segments.forEach(({ from, to, holds }, i) => {
        const startLb = i === 0 && trip.depart !== null ? inTicks(departs - bounds.earlier) : 0;
        const at = push(Math.max(0, startLb), ticks(to - from), withAwaited(world, it, i, holds));
        events.push({ time: inTicks(departs) + ticks(from), train: number, operation: at });
      });
      const arrive = push(0, span(trip.stay), way.after);
      events.push({
        time: inTicks(departs) + ticks(way.arrived),
        train: number,
        operation: arrive,
      });
      own.push({ chosen: it, depart: first, arrive });
      if (trip.depart !== null) {
        cost(first, trip.depart);
        limits.set(first, inTicks(trip.depart) + span(bounds.later));
      }
      // A standing train does not yet need the time that is kept for noting its arrival.
      if (trip.arrive !== null)
        cost(arrive, trip.arrive + Math.max(0, (way.arrived - way.run) * timetable.ratio));
      if (index === ways.length - 1) {
        drafts.push({
          startLb: end,
          minDuration: 0,
          holds: [],
          meaning: { kind: 'end' },
          successors: [],
        });
        events.push({ time: end, train: number, operation: drafts.length - 1 });
      }
    }
    trips.push(own);
    latest.push(limits);
    plans.push({ train, drafts, costs: [], awaited: awaitedIn(world, own) });
  });

  const operations = withResources(world.layout, plans);
  const limited = operations.map((train, number) =>
    train.map((operation, at): Operation => {
      const startUb = latest[number]!.get(at);
      return startUb === undefined ? operation : { ...operation, startUb };
    }),
  );
  events.sort((a, b) => a.time - b.time || a.train - b.train || a.operation - b.operation);
  return {
    problem: { trains: limited, objective },
    trips,
    wish: { objectiveValue: 0, events },
  };
}

type World = ExaminedTimetable['world'];

/** What a segment holds, and, on departure, the connections that are waited for. */
function withAwaited(
  { timetable }: World,
  { trip }: ChosenWay,
  segment: number,
  holds: readonly number[],
): readonly number[] {
  const { from } = trip;
  if (segment > 0 || from === null) return holds;
  const { station } = timetable.services[from.service]!.calls[from.call]!;
  const awaited = timetable.connections.flatMap((connection, index) =>
    connection.to === from.service && connection.station === station
      ? [connectionResource(index)]
      : [],
  );
  return [...holds, ...awaited];
}

/** The operations until the arrival of services that others wait for. */
function awaitedIn({ timetable }: World, trips: readonly TripOperations[]): Awaited[] {
  return timetable.connections.flatMap((connection, index): Awaited[] => {
    const feeder = trips.find(({ chosen: { trip } }) => {
      if (trip.to?.service !== connection.from) return false;
      const { station } = timetable.services[trip.to.service]!.calls[trip.to.call]!;
      return station === connection.station;
    });
    if (feeder === undefined) return [];
    return [
      {
        connection: index,
        operations: Array.from({ length: feeder.arrive }, (_, at) => at),
        release: ticks(connection.transfer / timetable.ratio),
      },
    ];
  });
}

/** Fast ms of a moment of the problem. */
export const fastAt = ({ timetable }: World, tick: number): number =>
  timetable.start + tick * TICK * timetable.ratio;
