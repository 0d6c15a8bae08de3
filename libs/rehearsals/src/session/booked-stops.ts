import type { Timetable } from '@blockbell/railway';

/** A booked arrival at which a train stops. */
export interface BookedStop {
  readonly service: number;
  readonly call: number;
  readonly arrive: number;
  /** Whether it is the service's last call. */
  readonly isLast: boolean;
}

/** All booked arrivals of a timetable at which a train that has the work stops, by service and call. */
export function bookedStops({ services, workings }: Timetable): BookedStop[] {
  const worked = new Set(workings.flatMap((working) => working?.services ?? []));
  return services.flatMap(({ calls, index: service }) =>
    calls.flatMap(({ arrive, stops }, call): BookedStop[] => {
      const isLast = call === calls.length - 1;
      if (arrive === null || !(stops || isLast) || call === 0 || !worked.has(service)) return [];
      return [{ service, call, arrive, isLast }];
    }),
  );
}
