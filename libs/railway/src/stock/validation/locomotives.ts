import { fault, placeOf } from '../../faults/fault.js';
import type { Fault } from '../../faults/fault.js';
import { checkNotNegative, checkPositive, checkRange, checkTwice } from '../../faults/numbers.js';
import { addressKey } from '../compile-stock.js';
import type { DecoderAddress, LocomotiveFile, SpeedPoint, StockFile } from '../stock-file.js';

/** Numbers a decoder can have: the 7-bit and the 14-bit partition of NMRA S-9.2.1. */
export const ADDRESS_RANGES = {
  short: { least: 1, greatest: 127 },
  long: { least: 0, greatest: 10239 },
} as const;

const GREATEST_STEP = 126;

export const checkLocomotives = (file: StockFile): Fault[] => [
  ...file.locomotives.flatMap((locomotive, index) =>
    checkLocomotive(locomotive, placeOf('locomotives', index, locomotive.id)),
  ),
  ...file.trains.flatMap(({ id, consistAddress }, index) =>
    consistAddress === undefined
      ? []
      : checkAddress(consistAddress, `${placeOf('trains', index, id)} consistAddress`),
  ),
  ...checkTwice(
    [
      ...file.locomotives.map(({ id, address }, index) => ({
        address,
        place: placeOf('locomotives', index, id),
      })),
      ...file.trains.flatMap(({ id, consistAddress: address }, index) =>
        address === undefined ? [] : [{ address, place: placeOf('trains', index, id) }],
      ),
    ],
    ({ address }) => addressKey(address),
    ({ place }) => place,
    'decoder address',
    'give each decoder an address of its own (short and long of the same number are two)',
  ),
];

function checkAddress({ kind, number }: DecoderAddress, place: string): Fault[] {
  const { least, greatest } = ADDRESS_RANGES[kind];
  return checkRange(place, `the ${kind} address`, number, least, greatest);
}

function checkLocomotive(locomotive: LocomotiveFile, place: string): Fault[] {
  return [
    ...checkAddress(locomotive.address, `${place} address`),
    ...checkPositive(place, 'the length', locomotive.length, 'mm'),
    ...checkPositive(place, 'the top speed', locomotive.topSpeed, 'mm/s'),
    ...checkPositive(place, 'the acceleration', locomotive.acceleration, 'mm/s²'),
    ...checkPositive(place, 'the braking', locomotive.braking, 'mm/s²'),
    ...checkNotNegative(place, 'the run-on', locomotive.runOn, 'mm'),
    ...(['speed', 'braking'] as const).flatMap((what) =>
      checkSpread(locomotive.spread[what], `${place} spread ${what}`),
    ),
    ...(['forward', 'reverse'] as const).flatMap((direction) =>
      checkSpeedTable(locomotive.speedTable[direction], `${place} speedTable ${direction}`),
    ),
  ];
}

const checkSpread = (percent: number, place: string): Fault[] =>
  percent >= 0 && percent < 100
    ? []
    : [
        fault(
          place,
          `the spread is ${percent} percent`,
          'enter the worst deviation measured, from 0 to less than 100 percent',
        ),
      ];

function checkSpeedTable(table: readonly SpeedPoint[], place: string): Fault[] {
  if (table.length === 0) {
    return [
      fault(
        place,
        'nothing is measured in this direction',
        'measure at least one step and enter it',
      ),
    ];
  }
  return table.flatMap((point, index) => {
    const where = `${place}[${index}]`;
    const before = table[index - 1];
    return [
      ...checkRange(where, 'the step', point.step, 1, GREATEST_STEP),
      ...checkPositive(where, 'the speed', point.speed, 'mm/s'),
      ...(before !== undefined && (point.step <= before.step || point.speed <= before.speed)
        ? [
            fault(
              where,
              `step ${point.step} at ${point.speed} mm/s does not rise above step ${before.step} at ${before.speed} mm/s`,
              'enter the points with rising step and rising speed; leave out what was measured wrongly',
            ),
          ]
        : []),
    ];
  });
}
