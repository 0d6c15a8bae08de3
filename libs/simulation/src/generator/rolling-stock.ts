import {
  mm,
  mmPerS,
  mmPerS2,
  type CarFile,
  type CarId,
  type LocomotiveFile,
  type LocomotiveId,
  type SpeedPoint,
  type TrainClass,
  type TrainFile,
  type TrainId,
  type VehicleFile,
} from '@blockbell/railway/track';

/** The shape of a measured speed table: command step, and speed in thousandths of the top speed. */
const SPEED_SHAPE: readonly (readonly [step: number, permille: number])[] = [
  [14, 130],
  [30, 260],
  [46, 390],
  [62, 520],
  [80, 670],
  [96, 800],
  [112, 910],
  [126, 1000],
];
/** What a decoder does at step 1, in mm/s. */
const CREEP = 18;
/** Backwards the sample locomotives are a little slower, in thousandths. */
const REVERSE_PERMILLE = 970;

export interface LocomotiveOptions {
  /** A number from 1 to 127 is a short decoder address, above that a long one. */
  readonly address: number;
  readonly length: number;
  readonly topSpeed: number;
  readonly acceleration: number;
  readonly braking: number;
  /** Worst deviation of the speed and of the braking, in percent. */
  readonly spread: readonly [speed: number, braking: number];
  readonly answers?: boolean;
  readonly runOn?: number;
}

export const locomotive = (
  id: string,
  name: string,
  options: LocomotiveOptions,
): LocomotiveFile => ({
  id: id as LocomotiveId,
  name,
  address: { kind: options.address > 127 ? 'long' : 'short', number: options.address },
  length: mm(options.length),
  topSpeed: mmPerS(options.topSpeed),
  speedTable: {
    forward: speedTable(options.topSpeed, 1000),
    reverse: speedTable(options.topSpeed, REVERSE_PERMILLE),
  },
  acceleration: mmPerS2(options.acceleration),
  braking: mmPerS2(options.braking),
  spread: { speed: options.spread[0], braking: options.spread[1] },
  answers: options.answers ?? true,
  runOn: mm(options.runOn ?? 0),
});

/** Measured up to a little beyond the top speed that is used. */
function speedTable(topSpeed: number, permille: number): readonly SpeedPoint[] {
  const scaled = SPEED_SHAPE.map(([step, share]) => ({
    step,
    speed: mmPerS(Math.round((topSpeed * 1.08 * share * permille) / 1_000_000)),
  }));
  return [{ step: 1, speed: mmPerS(CREEP) }, ...scaled];
}

export const car = (id: string, name: string, length: number, detected = true): CarFile => ({
  id: id as CarId,
  name,
  length: mm(length),
  detected,
});

/** A locomotive in its place, facing the train's front or its rear. */
export const leading = (id: string): VehicleFile => ({
  locomotive: id as LocomotiveId,
  facing: 'forward',
});
export const facingRear = (id: string): VehicleFile => ({
  locomotive: id as LocomotiveId,
  facing: 'backward',
});
export const cars = (id: string, count: number): VehicleFile => ({ car: id as CarId, count });

export const train = (
  id: string,
  label: string,
  name: string,
  options: {
    readonly class: TrainClass;
    readonly priority: number;
    readonly canReverse?: boolean;
    readonly vehicles: readonly VehicleFile[];
  },
): TrainFile => ({
  id: id as TrainId,
  label,
  name,
  class: options.class,
  priority: options.priority,
  vehicles: options.vehicles,
  canReverse: options.canReverse ?? false,
});
