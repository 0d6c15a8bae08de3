import { mm, mmPerS, mmPerS2 } from '../units.js';
import type { Millimetres } from '../units.js';
import type {
  CarFile,
  DecoderAddress,
  LocomotiveFile,
  StockFile,
  TrainFile,
} from './stock-file.js';
import type { Extent, PlacedLocomotive, Stock, Train, TrainIndex } from './train.js';

/** A decoder address as a key: `short:3` and `long:3` are two decoders. */
export const addressKey = (address: DecoderAddress): string => `${address.kind}:${address.number}`;

/** A vehicle in its place in the train, counted back from the front. */
interface Placed {
  readonly extent: Extent;
  readonly detected: boolean;
  readonly locomotive: { readonly file: LocomotiveFile; readonly facingForward: boolean } | null;
}

/**
 * Computes lengths, detected stretches and the weakest values of every train. The file must be valid
 * (`validateStock` finds no fault); a reference to an unknown vehicle is a bug here and throws.
 */
export function compileStock(file: StockFile): Stock {
  const locomotives = new Map<string, LocomotiveFile>(file.locomotives.map((it) => [it.id, it]));
  const cars = new Map<string, CarFile>(file.cars.map((it) => [it.id, it]));
  const trains = file.trains.map((train, index) =>
    compileTrain(train, index, placeVehicles(train, locomotives, cars)),
  );
  const trainByAddress = new Map<string, TrainIndex>();
  for (const train of trains) {
    for (const address of train.addresses) trainByAddress.set(address, train.index);
  }
  return {
    file,
    trains,
    trainByName: new Map(file.trains.map(({ id }, index) => [id as string, index])),
    trainByAddress,
  };
}

function placeVehicles(
  train: TrainFile,
  locomotives: ReadonlyMap<string, LocomotiveFile>,
  cars: ReadonlyMap<string, CarFile>,
): readonly Placed[] {
  const placed: Placed[] = [];
  let at = 0;
  const place = (
    length: Millimetres,
    detected: boolean,
    locomotive: Placed['locomotive'],
  ): void => {
    placed.push({ extent: { from: mm(at), to: mm(at + length) }, detected, locomotive });
    at += length;
  };
  for (const vehicle of train.vehicles) {
    if ('locomotive' in vehicle) {
      const file = known(locomotives.get(vehicle.locomotive), train, vehicle.locomotive);
      place(file.length, true, { file, facingForward: vehicle.facing === 'forward' });
    } else {
      const file = known(cars.get(vehicle.car), train, vehicle.car);
      for (let car = 0; car < vehicle.count; car++) place(file.length, file.detected, null);
    }
  }
  return placed;
}

function compileTrain(file: TrainFile, index: TrainIndex, placed: readonly Placed[]): Train {
  const locomotives = placed.flatMap(({ extent, locomotive }): PlacedLocomotive[] =>
    locomotive === null ? [] : [{ ...locomotive, extent }],
  );
  const length = placed.at(-1)?.extent.to ?? mm(0);
  const detected = mergeExtents(placed.filter((it) => it.detected).map((it) => it.extent));
  const files = locomotives.map((it) => it.file);
  const least = (value: (it: LocomotiveFile) => number): number => Math.min(...files.map(value));
  const greatest = (value: (it: LocomotiveFile) => number): number => Math.max(...files.map(value));
  return {
    index,
    file,
    length,
    locomotives,
    detected,
    unseenFront: detected[0]?.from ?? length,
    unseenRear: mm(length - (detected.at(-1)?.to ?? 0)),
    topSpeed: mmPerS(least(reachableSpeed)),
    acceleration: mmPerS2(least((it) => it.acceleration)),
    braking: mmPerS2(least((it) => it.braking)),
    speedSpread: Math.ceil(greatest((it) => it.spread.speed) * 10),
    brakingSpread: Math.ceil(greatest((it) => it.spread.braking) * 10),
    runOn: mm(greatest((it) => it.runOn)),
    answers: files.some((it) => it.answers),
    answering: files.filter((it) => it.answers).length,
    addresses: [
      ...files.map(({ address }) => addressKey(address)),
      ...(file.consistAddress === undefined ? [] : [addressKey(file.consistAddress)]),
    ],
  };
}

/** Top speed, or less where the measured table ends earlier in either direction. */
const reachableSpeed = (locomotive: LocomotiveFile): number =>
  Math.min(
    locomotive.topSpeed,
    locomotive.speedTable.forward.at(-1)?.speed ?? 0,
    locomotive.speedTable.reverse.at(-1)?.speed ?? 0,
  );

/** Joins stretches that touch. They come in order from the front. */
function mergeExtents(extents: readonly Extent[]): readonly Extent[] {
  const merged: Extent[] = [];
  for (const extent of extents) {
    const last = merged.at(-1);
    if (last !== undefined && last.to === extent.from) {
      merged[merged.length - 1] = { from: last.from, to: extent.to };
    } else merged.push(extent);
  }
  return merged;
}

function known<T>(found: T | undefined, train: TrainFile, id: string): T {
  if (found === undefined) throw new Error(`the stock was not validated: ${train.id} has no ${id}`);
  return found;
}
