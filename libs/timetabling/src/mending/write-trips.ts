import type { CallRef, World } from '@blockbell/railway';
import { roundUp, writeTime } from '../booking/times.js';
import { callOf } from '../booking/trips.js';
import type { ChosenWay } from '../conflicts/choose-ways.js';
import type { TimeChange } from '../findings/finding.js';
import type { PlannedTrip } from './latest-times.js';
import { fastAt } from './shift-problem.js';

/** Planned times this near to the booked ones are the booked ones: a plan counts in steps. Fast ms. */
const NEAR = 2000;

/**
 * The times of a train's calls as a plan has them, rounded up to the unit of the timetable: none before the running time,
 * the dwell and the turn-round are over after the rounded times before.
 */
export function writeTrips(
  world: World,
  trips: readonly (Pick<ChosenWay, 'trip' | 'way'> & { readonly planned: PlannedTrip })[],
  grain: number,
): TimeChange[] {
  const { ratio, services } = world.timetable;
  const changes: TimeChange[] = [];
  const note = ({ service, call }: CallRef, what: 'arrive' | 'depart', to: number): void => {
    const { id, calls } = services[service]!.file;
    const from = calls[call]![what];
    if (from !== undefined) changes.push({ service: id, call, what, from, to: writeTime(to) });
  };
  let ready = -Infinity;
  for (const { trip, way, planned } of trips) {
    const left = near(fastAt(world, planned.depart), trip.depart);
    const depart = roundUp(Math.max(left, ready), grain);
    if (trip.from !== null && trip.depart !== null) note(trip.from, 'depart', depart);
    for (const { leg, call, at } of trip.passes) {
      const passed = roundUp(Math.max(at, depart + (way.passes.get(leg) ?? 0) * ratio), grain);
      note(call, 'arrive', Math.max(passed, callOf(world, call).arrive ?? 0));
      note(call, 'depart', passed);
    }
    const stood = fastAt(world, planned.arrive) - (way.arrived - way.run) * ratio;
    const arrive = roundUp(
      Math.max(trip.arrive ?? 0, near(stood, trip.arrive), depart + way.run * ratio),
      grain,
    );
    if (trip.to !== null && trip.arrive !== null) note(trip.to, 'arrive', arrive);
    ready = arrive + trip.stay;
  }
  return changes;
}

const near = (planned: number, booked: number | null): number =>
  booked !== null && Math.abs(planned - booked) < NEAR ? booked : planned;
