import { compileLayout } from '@blockbell/railway';
import type { Fault } from '@blockbell/simulation';
import type { Chance } from './chance.js';
import type { Railway } from './railways.js';

/** Draws one fault, or faults that belong together, that happen at `at` physical ms. */
export type Draw = (railway: Railway, at: number, chance: Chance) => readonly Fault[];

export const anySection = ({ layout }: Railway, chance: Chance): number =>
  chance.below(layout.sections.length);
export const anyTrain = ({ stock }: Railway, chance: Chance): number =>
  chance.below(stock.trains.length);

/** The faults every session must survive; all that can be mended is mended after a while. */
export const FIRST_FAULTS = {
  /** Shorter than the detectors' hold-off of the examples and the generated railways lets pass unnoticed, or a little longer. */
  dropout: (railway, at, chance) => [
    {
      kind: 'dropout',
      at,
      section: anySection(railway, chance),
      duration: chance.between(50, 800),
    },
  ],
  late: (_, at, chance) => [
    {
      kind: 'late',
      at,
      section: null,
      messages: 'both',
      by: chance.between(50, 250),
      duration: chance.between(60_000, 180_000),
    },
  ],
  'silent-decoder': ({ stock }, at, chance) => [
    {
      kind: 'silent-decoder',
      at,
      address: chance.pick(stock.locomotives).address,
      duration: null,
    },
  ],
  stall: (railway, at, chance) => [
    {
      kind: 'stall',
      at,
      train: anyTrain(railway, chance),
      duration: chance.between(10_000, 60_000),
    },
  ],
  /** Power fails somewhere, and every train runs on by up to what it declares. */
  'run-on': (railway, at, chance) => [
    ...railway.stock.trains.map((_, train): Fault => {
      const permille = chance.between(0, 1000);
      return { kind: 'run-on', at: 0, train, permille, duration: null };
    }),
    {
      kind: 'power-loss',
      at,
      district: chance.below(railway.layout.districts.length),
      duration: chance.between(5_000, 30_000),
    },
  ],
  runaway: (railway, at, chance) => [
    {
      kind: 'runaway',
      at,
      train: anyTrain(railway, chance),
      speed: chance.pick([-1, 1]) * chance.between(60, 200),
      duration: chance.between(3_000, 15_000),
    },
  ],
  'stuck-drive': ({ layout }, at, chance) => [
    {
      kind: 'stuck-drive',
      at,
      element: chance.pick(compileLayout(layout).elements.filter(({ drive }) => drive !== null))
        .index,
      duration: chance.between(30_000, 150_000),
    },
  ],
} satisfies Record<string, Draw>;

export type FirstFault = keyof typeof FIRST_FAULTS;
