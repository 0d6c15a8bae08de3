import type {
  CarFile,
  LocomotiveFile,
  StockFile,
  TrainFile,
  VehicleFile,
} from '../stock/stock-file.js';
import { mm, mmPerS, mmPerS2 } from '../units.js';

/** Parts from which tests put small stocks together. */
export const locomotive = (
  id: string,
  number: number,
  more: Partial<LocomotiveFile> = {},
): LocomotiveFile => ({
  id: id as LocomotiveFile['id'],
  name: `Locomotive ${id}`,
  address: { kind: 'short', number },
  length: mm(180),
  topSpeed: mmPerS(260),
  speedTable: {
    forward: [
      { step: 1, speed: mmPerS(8) },
      { step: 126, speed: mmPerS(280) },
    ],
    reverse: [
      { step: 1, speed: mmPerS(8) },
      { step: 126, speed: mmPerS(270) },
    ],
  },
  acceleration: mmPerS2(80),
  braking: mmPerS2(120),
  spread: { speed: 4, braking: 6.5 },
  answers: true,
  runOn: mm(15),
  ...more,
});

export const car = (id: string, length = 260, detected = true): CarFile => ({
  id: id as CarFile['id'],
  name: `Car ${id}`,
  length: mm(length),
  detected,
});

/** Vehicles from `L1` (forward), `-L1` (backward) and `C1*3` (three cars). */
export const vehicles = (text: string): VehicleFile[] =>
  text
    .split(' ')
    .filter((it) => it !== '')
    .map((word) => {
      const [id = '', count] = word.split('*');
      if (count !== undefined) return { car: id as CarFile['id'], count: Number(count) };
      const name = id.replace('-', '') as LocomotiveFile['id'];
      return { locomotive: name, facing: id.startsWith('-') ? 'backward' : 'forward' };
    });

export const train = (id: string, consist: string, more: Partial<TrainFile> = {}): TrainFile => ({
  id: id as TrainFile['id'],
  label: id,
  name: `Train ${id}`,
  class: 'passenger',
  priority: 5,
  vehicles: vehicles(consist),
  canReverse: false,
  ...more,
});

export const stockOf = (
  locomotives: readonly LocomotiveFile[],
  cars: readonly CarFile[],
  trains: readonly TrainFile[],
): StockFile => ({
  kind: 'blockbell-stock',
  version: 1,
  id: 'test-stock',
  name: 'Test stock',
  locomotives,
  cars,
  trains,
});

/** Two trains: a push-pull P of 700 mm and a goods train G of 440 mm that may not reverse. */
export const twoTrains = (): StockFile =>
  stockOf(
    [locomotive('L1', 3), locomotive('L2', 12, { answers: false })],
    [car('coach'), car('wagon', 130, false)],
    [
      train('P', 'L1 coach*2', { canReverse: true }),
      train('G', 'L2 wagon*2', { class: 'freight', priority: 7 }),
    ],
  );
