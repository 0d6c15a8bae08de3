import type { Plan } from '@blockbell/scheduling';
import { ticks } from '@blockbell/planning';
import type { ShiftProblem } from './shift-problem.js';

/** When each trip leaves and arrives; ticks. */
export interface PlannedTrip {
  readonly depart: number;
  readonly arrive: number;
}

export type BookedTrip = { readonly [what in keyof PlannedTrip]: number | null };

/**
 * A plan's times with nobody earlier than need be: every departure as near to its booked time as the plan's order lets it,
 * and whoever would wait on the way leaves so much later instead. By train of the problem and trip.
 * @param booked when each trip is booked to leave and to have arrived, ticks; null where nothing is booked
 */
export function latestTimes(
  { problem, trips }: ShiftProblem,
  plan: Plan,
  booked: readonly (readonly BookedTrip[])[],
): PlannedTrip[][] {
  const planned = problem.trains.map(() => new Map<number, number>());
  for (const { train, operation, time } of plan.events) planned[train]!.set(operation, time);
  const latest = problem.trains.map((train) => train.map(() => Infinity));
  const caps = capsOf(trips, planned, booked);
  /** By resource: when it is next taken, after the event being looked at. */
  const next = new Map<string, number>();
  for (const { train, operation } of [...plan.events].reverse()) {
    const { minDuration, successors, resources } = problem.trains[train]![operation]!;
    const [after] = successors;
    let time = after === undefined ? planned[train]!.get(operation)! : Infinity;
    if (after !== undefined) time = latest[train]![after]! - minDuration;
    for (const { resource } of problem.trains[train]![operation - 1]?.resources ?? []) {
      // Starting this operation gives back what the one before held and this one does not.
      if (resources.some((it) => it.resource === resource)) continue;
      const taken = next.get(resource);
      const release = releaseOf(problem.trains[train]![operation - 1]!.resources, resource);
      if (taken !== undefined) time = Math.min(time, taken - release);
    }
    time = Math.max(
      planned[train]!.get(operation)!,
      Math.min(time, caps[train]!.get(operation) ?? Infinity),
    );
    latest[train]![operation] = time;
    for (const { resource } of resources) next.set(resource, time);
  }
  return trips.map((own, train) =>
    own.map(({ depart, arrive }) => ({
      depart: latest[train]![depart]!,
      arrive: latest[train]![arrive]!,
    })),
  );
}

const releaseOf = (
  uses: readonly { readonly resource: string; readonly releaseTime: number }[],
  resource: string,
): number => uses.find((it) => it.resource === resource)?.releaseTime ?? 0;

/** No departure after its booked or planned time, but where the train would wait on the way; no arrival after the planned. */
function capsOf(
  trips: ShiftProblem['trips'],
  planned: readonly ReadonlyMap<number, number>[],
  booked: readonly (readonly BookedTrip[])[],
): Map<number, number>[] {
  return trips.map((own, train) => {
    const caps = new Map<number, number>();
    own.forEach(({ chosen, depart, arrive }, trip) => {
      const leaves = planned[train]!.get(depart)!;
      const arrives = planned[train]!.get(arrive)!;
      const least = arrives - leaves - leastTicks(chosen.way.segments);
      const due = booked[train]![trip]!;
      if (least > 0) caps.set(arrive, arrives);
      else {
        caps.set(depart, Math.max(leaves, due.depart ?? leaves));
        caps.set(arrive, Math.max(arrives, due.arrive ?? arrives));
      }
    });
    return caps;
  });
}

const leastTicks = (segments: readonly { readonly from: number; readonly to: number }[]): number =>
  segments.reduce((sum, { from, to }) => sum + ticks(to - from), 0);
