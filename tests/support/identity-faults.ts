import { compileLayout, compileStock, compileTimetable } from '@blockbell/railway';
import type { Chance } from './chance.js';
import { anySection, anyTrain, type Draw } from './first-faults.js';
import type { Railway } from './railways.js';

const anyAddress = ({ stock }: Railway, chance: Chance) => chance.pick(stock.locomotives).address;

/** A block long enough for the train in which nothing was stored, with a direction. */
function roomFor(railway: Railway, train: number, chance: Chance): number {
  const layout = compileLayout(railway.layout);
  const stock = compileStock(railway.stock);
  const { storedPlaces } = compileTimetable(railway.timetable, layout, stock);
  const blocks = layout.elements.filter(
    ({ kind, length, index }) =>
      kind === 'block' &&
      length > stock.trains[train]!.length + 50 &&
      !storedPlaces.some((place) => place !== null && place >> 1 === index),
  );
  return chance.pick(blocks).index * 2 + chance.below(2);
}

function distinctPair(count: number, chance: Chance): [number, number] {
  const first = chance.below(count);
  return [first, (first + 1 + chance.below(count - 1)) % count];
}

/** Faults that touch what is believed of who stands where; all that can be mended is mended after a while. */
export const IDENTITY_FAULTS = {
  /** The last car comes off, wherever the train is. */
  'lost-cars': (railway, at, chance) => {
    const train = anyTrain(railway, chance);
    const { length } = compileStock(railway.stock).trains[train]!;
    return [{ kind: 'lost-cars', at, train, length: Math.floor(length / 3) }];
  },
  ghost: (railway, at, chance) => [
    {
      kind: 'stuck-detector',
      at,
      section: anySection(railway, chance),
      duration: chance.between(10_000, 200_000),
    },
  ],
  /** Longer than any hold-off. */
  'long-dropout': (railway, at, chance) => [
    {
      kind: 'dropout',
      at,
      section: anySection(railway, chance),
      duration: chance.between(1_000, 20_000),
    },
  ],
  misread: (railway, at, chance) => [
    {
      kind: 'misread',
      at,
      section: anySection(railway, chance),
      as: anyAddress(railway, chance),
      duration: chance.between(5_000, 60_000),
    },
  ],
  'hand-moved': (railway, at, chance) => {
    const train = anyTrain(railway, chance);
    return [{ kind: 'hand-moved', at, train, to: roomFor(railway, train, chance) }];
  },
  /** Set down in a block that another train is booked to stand in: on the rails beside it, if there is room. */
  'two-in-one-block': (railway, at, chance) => {
    const layout = compileLayout(railway.layout);
    const stock = compileStock(railway.stock);
    const { storedPlaces } = compileTimetable(railway.timetable, layout, stock);
    const [train, other] = distinctPair(railway.stock.trains.length, chance);
    return [{ kind: 'hand-moved', at, train, to: storedPlaces[other]! }];
  },
  /** Hung on behind another as soon as both stand at one of three moments. */
  coupled: ({ stock }, at, chance) => {
    const [train, other] = distinctPair(stock.trains.length, chance);
    return [0, 20_000, 40_000].map((later) => ({ kind: 'coupled', at: at + later, train, other }));
  },
  'bus-silence': ({ layout }, at, chance) => [
    {
      kind: 'bus-silence',
      at,
      bus: chance.pick(layout.buses).id,
      duration: chance.between(5_000, 30_000),
    },
  ],
} satisfies Record<string, Draw>;

export type IdentityFault = keyof typeof IDENTITY_FAULTS;
