import { mm, mmPerS, mmPerS2 } from '@blockbell/railway/track';
import type {
  CarFile,
  CarId,
  DecoderAddress,
  LocomotiveFile,
  LocomotiveId,
  StockFile,
  TrainFile,
  TrainId,
  VehicleFile,
} from '@blockbell/railway/track';

/** Stock for tests. One locomotive a train unless a test says otherwise; decoders are `short:1`, `short:2`, … */

export const address = (number: number): DecoderAddress => ({ kind: 'short', number });

export const locomotive = (number: number, file: Partial<LocomotiveFile> = {}): LocomotiveFile => ({
  id: `engine-${number}` as LocomotiveId,
  name: `Engine ${number}`,
  address: address(number),
  length: mm(180),
  topSpeed: mmPerS(252),
  speedTable: {
    forward: [
      { step: 26, speed: mmPerS(52) },
      { step: 126, speed: mmPerS(252) },
    ],
    reverse: [
      { step: 26, speed: mmPerS(42) },
      { step: 126, speed: mmPerS(202) },
    ],
  },
  acceleration: mmPerS2(60),
  braking: mmPerS2(80),
  spread: { speed: 0, braking: 0 },
  answers: true,
  runOn: mm(0),
  ...file,
});

const WAGONS: readonly CarFile[] = [
  { id: 'coach' as CarId, name: 'Coach', length: mm(120), detected: true },
  { id: 'wagon' as CarId, name: 'Wagon without detected axles', length: mm(90), detected: false },
];

/** A locomotive, then cars; more vehicles may follow. */
export const train = (
  number: number,
  cars: readonly { readonly car: 'coach' | 'wagon'; readonly count: number }[] = [],
  more: readonly VehicleFile[] = [],
): TrainFile => ({
  id: `train-${number}` as TrainId,
  label: `T${number}`,
  name: `Train ${number}`,
  class: 'passenger',
  priority: 5,
  vehicles: [
    { locomotive: `engine-${number}` as LocomotiveId, facing: 'forward' },
    ...cars.map(({ car, count }) => ({ car: car as CarId, count })),
    ...more,
  ],
  canReverse: true,
});

export const stockOf = (
  trains: readonly TrainFile[],
  locomotives: readonly LocomotiveFile[],
): StockFile => ({
  kind: 'blockbell-stock',
  version: 1,
  id: 'test',
  name: 'Test',
  locomotives,
  cars: WAGONS,
  trains,
});
