import {
  parseClockText,
  type ServiceFile,
  type ServiceId,
  type TimetableFile,
  type WorkingFile,
} from '@blockbell/railway';

/** When a service first leaves, fast ms; 0 where nothing readable is booked. */
export const departureOf = ({ calls }: ServiceFile): number =>
  parseClockText(calls[0]?.depart ?? '') ?? 0;

/**
 * The timetable with other services. Each working runs those that are given to it in order of departure, at one moment in the
 * order given; one without any is left out, and so are connections of services that are gone.
 */
export function withServices(
  timetable: TimetableFile,
  services: readonly ServiceFile[],
  runBy: (working: WorkingFile) => readonly ServiceId[],
): TimetableFile {
  const departures = new Map(services.map((service) => [service.id, departureOf(service)]));
  return {
    ...timetable,
    services,
    connections: timetable.connections.filter(
      ({ from, to }) => departures.has(from) && departures.has(to),
    ),
    workings: timetable.workings
      .map((working) => ({
        ...working,
        services: [...runBy(working)].sort((a, b) => departures.get(a)! - departures.get(b)!),
      }))
      .filter(({ services: work }) => work.length > 0),
  };
}
