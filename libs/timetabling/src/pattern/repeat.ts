import {
  parseClockText,
  type Fault,
  type ServiceFile,
  type ServiceId,
  type TimetableFile,
  type WorkingId,
} from '@blockbell/railway';
import { writeTime } from '../booking/times.js';
import { departureOf, withServices } from '../booking/with-services.js';

/** Services that are run again and again at a regular interval. */
export interface Pattern {
  /** What a train runs in one round, in order; the round begins with the departure of the first. */
  readonly services: readonly ServiceId[];
  /** Fast-clock minutes from one round to the next. */
  readonly every: number;
  readonly from: string;
  /** No round begins after it. */
  readonly until: string;
  /** The workings that take the rounds in turn. */
  readonly workings: readonly WorkingId[];
}

export type RepeatedTimetable =
  | { readonly ok: true; readonly timetable: TimetableFile; readonly added: number }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/**
 * The timetable with each pattern's services in place of the ones it repeats, named by their first departure (`S3-1.0805`). A
 * working runs its rounds between its other services in order of time. Connections of repeated services are left out.
 */
export function repeatServices(
  timetable: TimetableFile,
  patterns: readonly Pattern[],
): RepeatedTimetable {
  const faults = patterns.flatMap((pattern, index) => faultsOf(timetable, pattern, index));
  if (faults.length > 0) return { ok: false, faults };
  const services = new Map(timetable.services.map((service) => [service.id, service]));
  const repeated = new Set(patterns.flatMap((pattern) => pattern.services));
  const made: ServiceFile[] = [];
  const rounds = new Map<WorkingId, ServiceId[]>();
  for (const pattern of patterns) {
    startsOf(pattern).forEach((start, round) => {
      const first = departureOf(services.get(pattern.services[0]!)!);
      const copies = pattern.services.map((id) => moved(services.get(id)!, start - first, start));
      made.push(...copies);
      const working = pattern.workings[round % pattern.workings.length]!;
      rounds.set(working, [...(rounds.get(working) ?? []), ...copies.map(({ id }) => id)]);
    });
  }
  const all = [...timetable.services.filter(({ id }) => !repeated.has(id)), ...made];
  return {
    ok: true,
    added: all.length - timetable.services.length,
    timetable: withServices(timetable, all, (working) => [
      ...working.services.filter((id) => !repeated.has(id)),
      ...(rounds.get(working.id) ?? []),
    ]),
  };
}

/** When each round begins, fast ms. */
function startsOf({ from, until, every }: Pattern): number[] {
  const starts: number[] = [];
  const last = parseClockText(until)!;
  for (let at: number = parseClockText(from)!; at <= last; at += every * 60_000) starts.push(at);
  return starts;
}

function moved({ id, name, calls }: ServiceFile, by: number, start: number): ServiceFile {
  const later = (text: string): string => writeTime(parseClockText(text)! + by);
  const at = writeTime(start);
  return {
    id: `${id}.${at.replaceAll(':', '')}` as ServiceId,
    name: `${name}, ${at}`,
    calls: calls.map((call) => ({
      ...call,
      ...(call.arrive === undefined ? {} : { arrive: later(call.arrive) }),
      ...(call.depart === undefined ? {} : { depart: later(call.depart) }),
    })),
  };
}

function faultsOf({ services, workings }: TimetableFile, pattern: Pattern, index: number): Fault[] {
  const place = `patterns[${index}]`;
  const [from, until] = [parseClockText(pattern.from), parseClockText(pattern.until)];
  const seconds = (pattern.every * 60) % 1 === 0;
  return [
    ...pattern.services
      .filter((id) => !services.some((service) => service.id === id))
      .map((id) => ({
        place,
        text: `there is no service ${id}`,
        mend: 'name services of the timetable',
      })),
    ...pattern.workings
      .filter((id) => !workings.some((working) => working.id === id))
      .map((id) => ({
        place,
        text: `there is no working ${id}`,
        mend: 'name workings of the timetable',
      })),
    ...(from === null || until === null || until < from
      ? [
          {
            place,
            text: `${pattern.from} to ${pattern.until} is no span of time`,
            mend: 'write HH:MM or HH:MM:SS, the later one last; hours may pass 24',
          },
        ]
      : []),
    ...(pattern.every > 0 && seconds
      ? []
      : [
          {
            place,
            text: `an interval of ${pattern.every} min is no whole number of seconds above zero`,
            mend: 'enter minutes, such as 30 or 7.5',
          },
        ]),
  ];
}
