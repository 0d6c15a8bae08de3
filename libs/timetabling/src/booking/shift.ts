import { callBefore, type World } from '@blockbell/railway';
import type { TimeChange } from '../findings/finding.js';
import { least, type LeastTimes } from '../ways/least-times.js';
import { roundUp, writeTime } from './times.js';
import { callOf, type Trip } from './trips.js';

/** A wish to have one trip leave, or arrive, later. Times fast ms. */
export interface Wish {
  readonly trip: number;
  readonly depart?: number;
  readonly arrive?: number;
}

/**
 * The changes that let one trip of a train leave or arrive later: whatever follows in its working moves as far as the
 * time it needs makes necessary, and no further; slack takes up the rest.
 */
export function changesFor(
  world: World,
  trips: readonly Trip[],
  times: readonly LeastTimes[],
  wish: Wish,
  grain: number,
): TimeChange[] {
  const changes: TimeChange[] = [];
  let ready = wish.depart ?? -Infinity;
  for (let index = wish.trip; index < trips.length; index++) {
    const trip = trips[index]!;
    const before = callBefore(world, trip.train, trip.leg);
    const depart = later(trip.depart, ready, grain);
    if (before !== null && trip.from !== null && trip.depart !== null)
      note(world, changes, trip.from, 'depart', trip.depart, depart);
    const leaves = depart ?? ready;
    const { run, passes } = least(times, index);
    for (const { leg, call, at } of trip.passes) {
      const passed = later(at, leaves + (passes.get(leg) ?? 0), grain)!;
      for (const what of ['arrive', 'depart'] as const) {
        const booked = callOf(world, call)[what];
        const file = world.timetable.services[call.service]!.file.calls[call.call]!;
        if (booked !== null && file[what] !== undefined)
          note(world, changes, call, what, booked, passed);
      }
    }
    const wanted = index === wish.trip ? (wish.arrive ?? -Infinity) : -Infinity;
    const arrive = later(trip.arrive, Math.max(leaves + run, wanted), grain);
    if (trip.to !== null && trip.arrive !== null)
      note(world, changes, trip.to, 'arrive', trip.arrive, arrive);
    const moved = depart !== trip.depart || arrive !== trip.arrive;
    if (index > wish.trip && !moved) break;
    ready = (arrive ?? leaves + run) + trip.stay;
  }
  return changes;
}

const later = (booked: number | null, ready: number, grain: number): number | null =>
  booked === null ? null : Math.max(booked, ready === -Infinity ? booked : roundUp(ready, grain));

function note(
  world: World,
  changes: TimeChange[],
  { service, call }: { readonly service: number; readonly call: number },
  what: 'arrive' | 'depart',
  from: number,
  to: number | null,
): void {
  if (to === null || to === from) return;
  const { id } = world.timetable.services[service]!.file;
  changes.push({ service: id, call, what, from: writeTime(from), to: writeTime(to) });
}
