import {
  fastTime,
  formatClockText,
  parseClockText,
  type ServiceFile,
  type TimetableFile,
} from '@blockbell/railway';

const MINUTE = 60_000;
/** The last time that a timetable can tell, fast-clock ms. */
export const LAST_TIME = parseClockText('99:59') ?? 0;

/** Fast-clock ms of a text; null where there is none, or it is none. */
export const timeOf = (text: string | undefined): number | null =>
  text === undefined ? null : parseClockText(text);

/**
 * The timetable with a service's departure from one call, and every later time of the service, moved by so many minutes:
 * not before it has arrived there, nor before midnight or beyond {@link LAST_TIME}. The very same timetable where nothing moves.
 */
export function shiftTimes(
  file: TimetableFile,
  service: string,
  call: number,
  minutes: number,
): TimetableFile {
  const found = file.services.find(({ id }) => id === service);
  const departs = timeOf(found?.calls[call]?.depart);
  if (found === undefined || departs === null) return file;
  const least = (timeOf(found.calls[call]!.arrive) ?? 0) - departs;
  const last = Math.max(...timesFrom(found, call));
  const most = Math.max(0, Math.floor((LAST_TIME - last) / MINUTE) * MINUTE);
  const by = Math.min(Math.max(minutes * MINUTE, Math.min(0, least)), most);
  if (by === 0) return file;
  const changed = shiftCalls(found, call, by);
  return { ...file, services: file.services.map((it) => (it === found ? changed : it)) };
}

/** The times of a service that its departure from a call takes along. */
const timesFrom = ({ calls }: ServiceFile, from: number): number[] =>
  calls
    .slice(from)
    .flatMap(({ arrive, depart }, index) => [index === 0 ? null : timeOf(arrive), timeOf(depart)])
    .filter((time) => time !== null);

function shiftCalls(service: ServiceFile, from: number, by: number): ServiceFile {
  const later = (text: string): string => formatClockText(fastTime((timeOf(text) ?? 0) + by));
  return {
    ...service,
    calls: service.calls.map((call, index) => {
      if (index < from) return call;
      const { arrive, depart } = call;
      return {
        ...call,
        ...(arrive === undefined || index === from ? {} : { arrive: later(arrive) }),
        ...(depart === undefined ? {} : { depart: later(depart) }),
      };
    }),
  };
}
