import type { Layout } from '../layout/layout.js';
import { compileStock } from '../stock/compile-stock.js';
import type { CarFile, LocomotiveFile, StockFile, TrainFile } from '../stock/stock-file.js';
import { compileTimetable } from '../timetable/compile-timetable.js';
import { DistanceTables } from '../timetable/distance-tables.js';
import type { CallFile, TimetableFile } from '../timetable/timetable-file.js';
import { WorkingGraph } from '../timetable/working-graph.js';
import { mm, mmPerS, mmPerS2 } from '../units.js';

/** Parts from which tests put trains and their work together. */
const LOCOMOTIVE_LENGTH = 100;

const locomotive = (id: string, address: number): LocomotiveFile => ({
  id: id as LocomotiveFile['id'],
  name: id,
  address: { kind: 'short', number: address },
  length: mm(LOCOMOTIVE_LENGTH),
  topSpeed: mmPerS(200),
  speedTable: {
    forward: [
      { step: 1, speed: mmPerS(10) },
      { step: 126, speed: mmPerS(220) },
    ],
    reverse: [
      { step: 1, speed: mmPerS(10) },
      { step: 126, speed: mmPerS(220) },
    ],
  },
  acceleration: mmPerS2(60),
  braking: mmPerS2(100),
  spread: { speed: 3, braking: 10 },
  answers: true,
  runOn: mm(40),
});

const car = (id: string, length: number, detected: boolean): CarFile => ({
  id: id as CarFile['id'],
  name: id,
  length: mm(length),
  detected,
});

/** What a test wants of a train. Unseen lengths are cars that no detector sees. */
export interface TrainWish {
  readonly id: string;
  /** mm, at least a locomotive and its unseen ends. */
  readonly length: number;
  readonly canReverse?: boolean;
  readonly unseenFront?: number;
  readonly unseenRear?: number;
  /** `element>end`: where it stands and looks to. */
  readonly stands: string;
  /** Its services one after the other, each the calls in words, see {@link callOf}. */
  readonly services: readonly string[];
}

/** A call in a word: `Station`, `Station:t2,t1` with tracks in order of preference, `(Station)` for passing it. */
function callOf(word: string, index: number, count: number): CallFile {
  const pass = word.startsWith('(');
  const [station = '', tracks] = word.replace(/[()]/g, '').split(':');
  const clock = `08:${String(index * 5).padStart(2, '0')}`;
  return {
    station: station as CallFile['station'],
    ...(index > 0 ? { arrive: clock } : {}),
    ...(index < count - 1 ? { depart: clock } : {}),
    ...(pass ? { stop: 'pass' as const } : {}),
    ...(tracks === undefined ? {} : { tracks: tracks.split(',') }),
  };
}

function stockOf(wishes: readonly TrainWish[]): StockFile {
  const cars: CarFile[] = [];
  const trains = wishes.map((wish): TrainFile => {
    const unseen = [wish.unseenFront ?? 0, wish.unseenRear ?? 0] as const;
    const coaches = wish.length - LOCOMOTIVE_LENGTH - unseen[0] - unseen[1];
    const vehicle = (name: string, length: number, detected: boolean): TrainFile['vehicles'] => {
      if (length <= 0) return [];
      cars.push(car(`${name}-${wish.id}`, length, detected));
      return [{ car: `${name}-${wish.id}` as CarFile['id'], count: 1 }];
    };
    return {
      id: wish.id as TrainFile['id'],
      label: wish.id,
      name: wish.id,
      class: 'passenger',
      priority: 3,
      vehicles: [
        ...vehicle('front', unseen[0], false),
        { locomotive: `L-${wish.id}` as LocomotiveFile['id'], facing: 'forward' },
        ...vehicle('coach', coaches, true),
        ...vehicle('rear', unseen[1], false),
      ],
      canReverse: wish.canReverse ?? false,
    };
  });
  return {
    kind: 'blockbell-stock',
    version: 1,
    id: 'test-stock',
    name: 'Test stock',
    locomotives: wishes.map(({ id }, index) => locomotive(`L-${id}`, index + 1)),
    cars,
    trains,
  };
}

function timetableOf(wishes: readonly TrainWish[]): TimetableFile {
  const services = wishes.flatMap(({ id, services }) =>
    services.map((words, index) => {
      const calls = words.split(' ');
      return {
        id: `${id}-${index}` as TimetableFile['services'][number]['id'],
        name: `${id}-${index}`,
        calls: calls.map((word, at) => callOf(word, at, calls.length)),
      };
    }),
  );
  return {
    kind: 'blockbell-timetable',
    version: 1,
    id: 'test-timetable',
    name: 'Test timetable',
    layout: 'test-layout',
    stock: 'test-stock',
    day: 'Monday',
    clock: { start: '08:00', end: '12:00', ratio: 6 },
    services,
    connections: [],
    workings: wishes
      .filter((wish) => wish.services.length > 0)
      .map(({ id, services }) => ({
        id: `W-${id}` as TimetableFile['workings'][number]['id'],
        train: id as TrainFile['id'],
        services: services.map(
          (_, index) => `${id}-${index}` as TimetableFile['services'][number]['id'],
        ),
      })),
    storedPlaces: wishes.map(({ id, stands }) => {
      const [block, towards] = stands.split('>');
      return {
        train: id as TrainFile['id'],
        block: block as TimetableFile['storedPlaces'][number]['block'],
        towards: towards === 'a' ? 'a' : 'b',
      };
    }),
  };
}

/** The working graphs of some trains on a layout. */
export function graphsOf(layout: Layout, ...wishes: readonly TrainWish[]): WorkingGraph[] {
  const stock = compileStock(stockOf(wishes));
  const timetable = compileTimetable(timetableOf(wishes), layout, stock);
  const tables = new DistanceTables(layout);
  return stock.trains.map((train, index) => {
    const working = timetable.workings[index] ?? null;
    const start = timetable.storedPlaces[index] ?? null;
    return new WorkingGraph({ layout, train, timetable, working, start, tables });
  });
}
