import { fault, placeOf } from '../../faults/fault.js';
import type { Fault } from '../../faults/fault.js';
import { checkReference } from '../../faults/identifiers.js';
import { checkNotNegative, checkTwice } from '../../faults/numbers.js';
import type { Stock } from '../../stock/train.js';
import { parseClockText } from '../clock-text.js';
import type { ConnectionFile, ServiceFile, TimetableFile, WorkingFile } from '../timetable-file.js';

/** Workings: every service run once, by one train; connections between services that call where they should. */
export function checkWorkings(file: TimetableFile, stock: Stock | null): Fault[] {
  const services = new Map<string, ServiceFile>(file.services.map((it) => [it.id, it]));
  const place = (working: WorkingFile): string =>
    placeOf('workings', file.workings.indexOf(working), working.id);
  const used = file.workings.flatMap((working) =>
    working.services.map((service) => ({ service, place: place(working) })),
  );
  const usedIds = new Set<string>(used.map(({ service }) => service));

  return [
    ...file.workings.flatMap((working) => [
      ...(stock === null
        ? []
        : checkReference(stock.trainByName, working.train, 'train', place(working))),
      ...working.services.flatMap((service) =>
        checkReference(services, service, 'service', place(working)),
      ),
      ...(working.services.length === 0
        ? [fault(place(working), 'the working has no service', 'add services, or remove it')]
        : []),
    ]),
    ...checkTwice(
      file.workings,
      ({ train }) => train,
      place,
      'train',
      'give a train one working, with all its services in order',
    ),
    ...checkTwice(
      used,
      ({ service }) => service,
      (it) => it.place,
      'service',
      'a service is run once, by one train',
    ),
    ...file.services.flatMap(({ id }, index) =>
      usedIds.has(id)
        ? []
        : [
            fault(
              placeOf('services', index, id),
              'no working contains this service',
              'add it to the working of the train that runs it, or remove it',
            ),
          ],
    ),
    ...checkConnections(file, services),
  ];
}

/** Each service of a working where and when the one before has ended; connections with time enough to change. */
export function checkJoins(file: TimetableFile): Fault[] {
  const services = new Map<string, ServiceFile>(file.services.map((it) => [it.id, it]));
  return [
    ...file.workings.flatMap((working, index) =>
      checkChain(working, placeOf('workings', index, working.id), services),
    ),
    ...checkTransfers(file, services),
  ];
}

function checkChain(
  working: WorkingFile,
  place: string,
  services: ReadonlyMap<string, ServiceFile>,
): Fault[] {
  return working.services.flatMap((id, index) => {
    const before = services.get(working.services[index - 1] ?? '');
    const ended = before?.calls.at(-1);
    const begun = services.get(id)?.calls[0];
    if (before === undefined || ended === undefined || begun === undefined) return [];
    if (ended.station !== begun.station) {
      return [
        fault(
          place,
          `${id} begins at ${begun.station}, but ${before.id} ends at ${ended.station}`,
          'put a service between them that takes the train there',
        ),
      ];
    }
    const arrival = parseClockText(ended.arrive ?? '');
    const departure = parseClockText(begun.depart ?? '');
    return arrival !== null && departure !== null && departure < arrival
      ? [
          fault(
            place,
            `${id} departs at ${begun.depart}, before ${before.id} arrives at ${ended.arrive}`,
            'change the times, or the order of the services',
          ),
        ]
      : [];
  });
}

const connectionPlace = ({ from, to }: ConnectionFile, index: number): string =>
  `connections[${index}] ${from}–${to}`;

/** When the first service of a connection arrives and the second departs, fast ms; null where it does not. */
function timesOf(
  { from, to, station }: ConnectionFile,
  services: ReadonlyMap<string, ServiceFile>,
): { readonly arrival: number | null; readonly departure: number | null } {
  const at = (id: string) => services.get(id)?.calls.find((call) => call.station === station);
  return {
    arrival: parseClockText(at(from)?.arrive ?? ''),
    departure: parseClockText(at(to)?.depart ?? ''),
  };
}

function checkConnections(
  file: TimetableFile,
  services: ReadonlyMap<string, ServiceFile>,
): Fault[] {
  return file.connections.flatMap((connection, index) => {
    const place = connectionPlace(connection, index);
    const unknown = [
      ...checkReference(services, connection.from, 'service', place),
      ...checkReference(services, connection.to, 'service', place),
    ];
    if (unknown.length > 0) return unknown;
    const { arrival, departure } = timesOf(connection, services);
    return [
      ...checkNotNegative(place, 'the transfer', connection.transfer, 's'),
      ...checkNotNegative(place, 'the longest wait', connection.holdAtMost, 's'),
      ...(connection.from === connection.to
        ? [fault(place, 'a service can not connect to itself', 'name two services')]
        : []),
      ...(arrival === null
        ? [
            fault(
              place,
              `${connection.from} does not arrive at ${connection.station}`,
              'name a station where it arrives',
            ),
          ]
        : []),
      ...(departure === null
        ? [
            fault(
              place,
              `${connection.to} does not depart from ${connection.station}`,
              'name a station where it departs',
            ),
          ]
        : []),
    ];
  });
}

function checkTransfers(file: TimetableFile, services: ReadonlyMap<string, ServiceFile>): Fault[] {
  return file.connections.flatMap((connection, index) => {
    const { arrival, departure } = timesOf(connection, services);
    const { transfer } = connection;
    return arrival !== null && departure !== null && arrival + transfer * 1000 > departure
      ? [
          fault(
            connectionPlace(connection, index),
            `the booked times leave less than the ${transfer} s of transfer`,
            'let the second service depart later, or shorten the transfer',
          ),
        ]
      : [];
  });
}
