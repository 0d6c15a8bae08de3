import { fault, placeOf, type Fault } from '../../faults/fault.js';
import { checkIdentifiers } from '../../faults/identifiers.js';
import { checkPositive, checkTwice } from '../../faults/numbers.js';
import type { Layout } from '../../layout/layout.js';
import type { Stock } from '../../stock/train.js';
import type { OpenServiceFile, TimetableFile } from '../timetable-file.js';
import { checkCallsOf, checkOrderOfTimes, type Stations } from './calls.js';
import { checkWayOf } from './ways.js';

/** As long as a session can be, minutes. */
const LONGEST = 99 * 60;

/** What is named in services without a train, and whether it can be read. */
export function checkOpenForm(file: TimetableFile, stations: Stations): Fault[] {
  const open = file.openServices ?? [];
  const booked = new Set<string>(file.services.map(({ id }) => id));
  return [
    ...checkIdentifiers({ path: 'openServices', entries: open }),
    ...checkCallsOf(open, 'openServices', stations),
    ...open.flatMap((service, index) => {
      const place = placeOf('openServices', index, service.id);
      return [
        ...(booked.has(service.id)
          ? [
              fault(
                place,
                `a service ${service.id} stands among the services as well`,
                'keep it in one of the two: there with the train that works it, here without',
              ),
            ]
          : []),
        ...checkBegin(service, place, stations),
        ...checkPositive(place, 'the longest wait', service.waitAtMost, 'minutes'),
        ...(service.waitAtMost > LONGEST
          ? [
              fault(
                place,
                `the longest wait is ${service.waitAtMost} minutes`,
                `enter at most ${LONGEST}`,
              ),
            ]
          : []),
        ...checkClasses(service, place),
      ];
    }),
  ];
}

/** Whether times rise, and some train there is could run it. */
export function checkOpenWork(
  file: TimetableFile,
  layout: Layout | null,
  stock: Stock | null,
): Fault[] {
  const open = file.openServices ?? [];
  return [
    ...checkOrderOfTimes({ clock: file.clock, services: open }, 'openServices'),
    ...(layout === null || stock === null
      ? []
      : open.flatMap((service, index) =>
          checkTrains(service, placeOf('openServices', index, service.id), layout, stock),
        )),
  ];
}

function checkBegin({ calls }: OpenServiceFile, place: string, stations: Stations): Fault[] {
  const station = stations?.get(calls[0]?.station ?? '');
  return station === undefined || station.file.kind === 'staging-yard'
    ? []
    : [
        fault(
          place,
          `it begins at ${station.file.id}, which is no staging yard`,
          'let it begin in a staging yard, whose rules choose its train, or put it into the working of a train',
        ),
      ];
}

const checkClasses = ({ classes }: OpenServiceFile, place: string): Fault[] =>
  classes === undefined
    ? []
    : classes.length === 0
      ? [fault(place, 'no class may work it', 'name a class, or leave "classes" out')]
      : checkTwice(
          classes,
          (it) => it,
          (_, at) => `${place} classes[${at}]`,
          'class',
          'name a class once',
        );

/** One train at least must be able to run it; where none is, the fault is that of the first. */
function checkTrains(
  service: OpenServiceFile,
  place: string,
  layout: Layout,
  stock: Stock,
): Fault[] {
  const { classes } = service;
  const trains = stock.trains.filter(({ file }) => classes?.includes(file.class) ?? true);
  if (trains.length === 0) {
    return [fault(place, 'no train is of a class that may work it', 'name other classes')];
  }
  const faults = trains.map((train) => checkWayOf(service, place, train, layout));
  return faults.some((it) => it.length === 0) ? [] : faults[0]!.slice(0, 1);
}
