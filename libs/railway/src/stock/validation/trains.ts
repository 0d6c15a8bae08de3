import { fault, placeOf } from '../../faults/fault.js';
import type { Fault } from '../../faults/fault.js';
import { checkReference } from '../../faults/identifiers.js';
import { checkPositive, checkRange, checkTwice } from '../../faults/numbers.js';
import type { StockFile, TrainFile } from '../stock-file.js';

const LONGEST_LABEL = 8;

/** Trains: known vehicles, each locomotive in one train, labels that can be told apart. */
export function checkTrains(file: StockFile): Fault[] {
  const locomotives = new Set<string>(file.locomotives.map(({ id }) => id));
  const cars = new Set<string>(file.cars.map(({ id }) => id));
  const place = (train: TrainFile): string =>
    placeOf('trains', file.trains.indexOf(train), train.id);

  const placed = file.trains.flatMap((train) =>
    train.vehicles.flatMap((vehicle) =>
      'locomotive' in vehicle ? [{ locomotive: vehicle.locomotive, train }] : [],
    ),
  );
  return [
    ...file.cars.flatMap((car, index) =>
      checkPositive(placeOf('cars', index, car.id), 'the length', car.length, 'mm'),
    ),
    ...file.trains.flatMap((train) => [
      ...checkVehicles(train, place(train), locomotives, cars),
      ...checkLabel(train.label, place(train)),
      ...checkRange(place(train), 'the priority', train.priority, 1, 9),
    ]),
    ...checkTwice(
      placed,
      ({ locomotive }) => locomotive,
      ({ train }) => place(train),
      'locomotive',
      'a locomotive runs in one train',
    ),
    ...checkTwice(
      file.trains,
      ({ label }) => label,
      place,
      'label',
      'give each train a label of its own, so that they can be told apart on the board',
    ),
  ];
}

function checkVehicles(
  train: TrainFile,
  place: string,
  locomotives: ReadonlySet<string>,
  cars: ReadonlySet<string>,
): Fault[] {
  const withoutLocomotive = train.vehicles.every((vehicle) => 'car' in vehicle);
  return [
    ...(withoutLocomotive
      ? [fault(place, 'the train has no locomotive', 'add at least one locomotive to its vehicles')]
      : []),
    ...train.vehicles.flatMap((vehicle, index) => {
      const where = `${place} vehicles[${index}]`;
      return 'locomotive' in vehicle
        ? checkReference(locomotives, vehicle.locomotive, 'locomotive', where)
        : [
            ...checkReference(cars, vehicle.car, 'car', where),
            ...checkPositive(where, 'the number of cars', vehicle.count, ''),
          ];
    }),
  ];
}

const checkLabel = (label: string, place: string): Fault[] =>
  label.length >= 1 && label.length <= LONGEST_LABEL
    ? []
    : [
        fault(
          place,
          `the label "${label}" has ${label.length} characters`,
          `enter 1 to ${LONGEST_LABEL} characters`,
        ),
      ];
