import type { ConnectionFile, ServiceId, StationId, TimetableFile } from '@blockbell/railway';
import { stored, working } from '@blockbell/simulation';
import { run } from './runs.js';
import { PLANS } from './workings.js';

/** Branch railcars wait a little for stopping trains from the yard. */
const CONNECTIONS: readonly (readonly [from: string, to: string])[] = [
  ['S22-1', 'S71-2'],
  ['S21-3', 'S71-4'],
];

/** Four hours of a Saturday morning on the fast clock, forty minutes on the layout. */
export function vellinValleyTimetable(): TimetableFile {
  const planned = PLANS.map((plan) => ({
    plan,
    services: plan.services.map(([departure, places], index) =>
      run(
        `S${plan.train.slice(1)}-${index + 1}`,
        `${plan.name}, trip ${index + 1}`,
        plan.pace,
        departure,
        places,
      ),
    ),
  }));
  return {
    kind: 'blockbell-timetable',
    version: 1,
    id: 'vellin-valley-timetable',
    name: 'Saturday morning',
    layout: 'vellin-valley',
    stock: 'vellin-valley-stock',
    day: 'Saturday',
    clock: { start: '06:00', end: '10:00', ratio: 6 },
    services: planned.flatMap(({ services }) => services),
    connections: CONNECTIONS.map(([from, to]): ConnectionFile => ({
      from: from as ServiceId,
      to: to as ServiceId,
      station: 'ostraven' as StationId,
      transfer: 120,
      holdAtMost: 300,
    })),
    workings: planned.map(({ plan, services }) =>
      working(
        `W${plan.train.slice(1)}`,
        plan.train,
        services.map(({ id }) => id),
      ),
    ),
    storedPlaces: PLANS.map(({ train, stands }) => stored(train, stands.block, stands.towards)),
  };
}
