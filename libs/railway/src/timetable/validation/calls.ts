import { fault, placeOf } from '../../faults/fault.js';
import type { Fault } from '../../faults/fault.js';
import { checkReference } from '../../faults/identifiers.js';
import { checkNotNegative, checkPositive } from '../../faults/numbers.js';
import type { Station } from '../../layout/layout.js';
import { parseClockText } from '../clock-text.js';
import type { CallFile, ServiceFile, TimetableFile } from '../timetable-file.js';

/** Stations of the layout by id; null when no sound layout is at hand, then names are not examined. */
export type Stations = ReadonlyMap<string, Station> | null;

/** What of a timetable is examined here. */
type TimesOfDay = Pick<TimetableFile, 'clock' | 'services'>;

/** Under which name services stand in the file. */
type ServiceList = 'services' | 'openServices';

export const callPlace = (service: string, call: CallFile, index: number): string =>
  `${service} calls[${index}] ${call.station}`;

/** The session's clock and every service's calls: that names and times are there and can be read. */
export const checkCalls = (file: TimesOfDay, stations: Stations): Fault[] => [
  ...checkClock(file),
  ...checkCallsOf(file.services, 'services', stations),
];

export const checkCallsOf = (
  services: readonly ServiceFile[],
  list: ServiceList,
  stations: Stations,
): Fault[] =>
  services.flatMap((service, index) =>
    checkService(service, placeOf(list, index, service.id), stations),
  );

/** Whether the times of every service rise, and lie within the session. */
export const checkOrderOfTimes = (file: TimesOfDay, list: ServiceList = 'services'): Fault[] =>
  file.services.flatMap((service, index) => {
    const place = placeOf(list, index, service.id);
    return [...checkRising(service, place), ...checkWithinSession(service, place, file)];
  });

function checkClock({ clock }: TimesOfDay): Fault[] {
  const start = parseClockText(clock.start);
  const end = parseClockText(clock.end);
  return [
    ...checkTime('clock start', clock.start),
    ...checkTime('clock end', clock.end),
    ...checkPositive('clock ratio', 'the ratio of the fast clock', clock.ratio, ''),
    ...(start !== null && end !== null && end <= start
      ? [
          fault(
            'clock end',
            `the session ends at ${clock.end}, not after its start at ${clock.start}`,
            'enter a later end; over midnight the hours go on past 24',
          ),
        ]
      : []),
  ];
}

const checkTime = (place: string, text: string): Fault[] =>
  parseClockText(text) === null
    ? [fault(place, `"${text}" is no time`, 'write HH:MM or HH:MM:SS; hours may pass 24')]
    : [];

function checkService(service: ServiceFile, place: string, stations: Stations): Fault[] {
  return [
    ...(service.calls.length < 2
      ? [fault(place, 'the service has fewer than two calls', 'enter where it begins and ends')]
      : []),
    ...service.calls.flatMap((call, index) => {
      const where = callPlace(place, call, index);
      return [
        ...checkTrack(call, where, stations),
        ...checkTimesGiven(call, index, service.calls.length, where),
        ...(call.dwell === undefined
          ? []
          : [
              ...checkNotNegative(where, 'the dwell on the fast clock', call.dwell.fast, 's'),
              ...checkNotNegative(where, 'the dwell in real time', call.dwell.real, 's'),
            ]),
      ];
    }),
  ];
}

function checkTrack(call: CallFile, where: string, stations: Stations): Fault[] {
  if (stations === null) return [];
  const station = stations.get(call.station);
  if (station === undefined) return checkReference(stations, call.station, 'station', where);
  const tracks = new Set(station.file.tracks.map(({ id }) => id));
  return [
    ...(call.tracks ?? []).flatMap((id) =>
      tracks.has(id)
        ? []
        : [
            fault(
              where,
              `there is no track of ${call.station} called ${id}`,
              `correct the name, or add the track to ${call.station}`,
            ),
          ],
    ),
    ...(call.tracks?.length === 0 || tracks.size === 0
      ? [fault(where, 'there is no track to use', 'name tracks of the station, or leave them open')]
      : []),
  ];
}

/** Which of the two times a call needs, by its place in the service. */
function checkTimesGiven(call: CallFile, index: number, count: number, where: string): Fault[] {
  const faults = [
    ...(call.arrive === undefined ? [] : checkTime(`${where} arrive`, call.arrive)),
    ...(call.depart === undefined ? [] : checkTime(`${where} depart`, call.depart)),
  ];
  const [first, last] = [index === 0, index === count - 1];
  const passes = call.stop === 'pass';
  if (passes && (first || last)) {
    faults.push(fault(where, 'a service can not begin or end by passing', 'make it a call'));
  }
  if (passes && !first && !last) {
    if (call.arrive === undefined && call.depart === undefined) {
      faults.push(fault(where, 'the pass has no time', 'enter when it passes as "depart"'));
    }
    return faults;
  }
  if (first !== (call.arrive === undefined)) {
    faults.push(
      first
        ? fault(where, 'the first call has an arrival', 'remove "arrive": the service begins here')
        : fault(where, 'the call has no arrival', 'enter "arrive"'),
    );
  }
  if (last !== (call.depart === undefined)) {
    faults.push(
      last
        ? fault(where, 'the last call has a departure', 'remove "depart": the service ends here')
        : fault(where, 'the call has no departure', 'enter "depart"'),
    );
  }
  return faults;
}

/** Standing takes no time at least; running always takes some. */
function checkRising(service: ServiceFile, place: string): Fault[] {
  let before: { text: string; time: number } | null = null;
  return service.calls.flatMap((call, index) => {
    const faults: Fault[] = [];
    for (const what of ['arrive', 'depart'] as const) {
      const text = call[what];
      const time = text === undefined ? null : parseClockText(text);
      if (text === undefined || time === null) continue;
      const stands = what === 'depart' && call.arrive !== undefined;
      if (before !== null && (stands ? time < before.time : time <= before.time)) {
        faults.push(
          fault(
            `${callPlace(place, call, index)} ${what}`,
            `${text} does not come after ${before.text}`,
            'enter times that rise along the service; over midnight the hours go on past 24',
          ),
        );
      }
      before = { text, time };
    }
    return faults;
  });
}

function checkWithinSession(service: ServiceFile, place: string, { clock }: TimesOfDay): Fault[] {
  const timeOf = (text: string | undefined): number | null =>
    text === undefined ? null : parseClockText(text);
  const [start, end] = [timeOf(clock.start), timeOf(clock.end)];
  const [begins, ends] = [timeOf(service.calls[0]?.depart), timeOf(service.calls.at(-1)?.arrive)];
  const mend = 'change its times, or let the session run from an earlier start to a later end';
  return [
    ...(start !== null && begins !== null && begins < start
      ? [fault(place, `it departs before the session's start at ${clock.start}`, mend)]
      : []),
    ...(end !== null && ends !== null && ends > end
      ? [fault(place, `it arrives after the session's end at ${clock.end}`, mend)]
      : []),
  ];
}
