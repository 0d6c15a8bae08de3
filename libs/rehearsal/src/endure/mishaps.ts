import type { World } from '@blockbell/railway';
import { headingOf } from '@blockbell/railway';
import { nextBetween, type Fault, type RandomStream } from '@blockbell/simulation';

/** Draws one fault, or faults that belong together, that begin at `at` physical ms. */
type Draw = (world: World, at: number, chance: RandomStream) => readonly Fault[];

const pick = <T>(list: readonly T[], chance: RandomStream): T =>
  list[nextBetween(chance, 0, list.length - 1)]!;
const anyTrain = ({ stock }: World, chance: RandomStream): number =>
  nextBetween(chance, 0, stock.trains.length - 1);
const anyDistrict = ({ layout }: World, chance: RandomStream): number =>
  nextBetween(chance, 0, layout.districts.length - 1);

/** Faults within what the rules of safety assume; all but a silent decoder are mended after a while. */
const LAWFUL: readonly Draw[] = [
  ({ layout }, at, chance) => [
    {
      kind: 'stuck-detector',
      at,
      section: nextBetween(chance, 0, layout.sections.length - 1),
      duration: nextBetween(chance, 10_000, 200_000),
    },
  ],
  (_, at, chance) => [
    {
      kind: 'late',
      at,
      section: null,
      messages: 'both',
      by: nextBetween(chance, 50, 250),
      duration: nextBetween(chance, 60_000, 180_000),
    },
  ],
  (_, at, chance) => [
    {
      kind: 'duplicated',
      at,
      section: null,
      messages: 'both',
      permille: nextBetween(chance, 100, 1000),
      duration: nextBetween(chance, 60_000, 180_000),
    },
  ],
  ({ layout }, at, chance) => [
    {
      kind: 'bus-silence',
      at,
      bus: pick(layout.file.buses, chance).id,
      duration: nextBetween(chance, 5_000, 30_000),
    },
  ],
  ({ stock }, at, chance) => {
    const { address } = pick(stock.file.locomotives, chance);
    return [{ kind: 'silent-decoder', at, address, duration: null }];
  },
  /** Power fails somewhere, and every train runs on by up to what it declares. */
  (world, at, chance) => [
    ...world.stock.trains.map((_, train): Fault => {
      const permille = nextBetween(chance, 0, 1000);
      return { kind: 'run-on', at, train, permille, duration: null };
    }),
    {
      kind: 'power-loss',
      at: at + 1,
      district: anyDistrict(world, chance),
      duration: nextBetween(chance, 5_000, 30_000),
    },
  ],
  (world, at, chance) => [
    {
      kind: 'short',
      at,
      district: anyDistrict(world, chance),
      duration: nextBetween(chance, 1_000, 30_000),
    },
  ],
  (world, at, chance) => [
    {
      kind: 'slip',
      at,
      train: anyTrain(world, chance),
      permille: nextBetween(chance, 300, 950),
      duration: nextBetween(chance, 5_000, 60_000),
    },
  ],
];

/** Faults that can bring trains where no logic could keep them from. */
const LAWLESS: readonly Draw[] = [
  (world, at, chance) => {
    const speed = nextBetween(chance, 60, 200);
    return [
      {
        kind: 'runaway',
        at,
        train: anyTrain(world, chance),
        speed: nextBetween(chance, 0, 1) === 0 ? speed : -speed,
        duration: nextBetween(chance, 3_000, 15_000),
      },
    ];
  },
  /** The last third comes off, wherever the train is. */
  (world, at, chance) => {
    const train = anyTrain(world, chance);
    const length = Math.floor(world.stock.trains[train]!.length / 3);
    return [{ kind: 'lost-cars', at, train, length }];
  },
  /** Set down in any block that is long enough, taken or not. */
  (world, at, chance) => {
    const train = anyTrain(world, chance);
    const { length } = world.stock.trains[train]!;
    const blocks = world.layout.elements.filter(
      (element) => element.kind === 'block' && element.length > length + 50,
    );
    const to = headingOf(pick(blocks, chance).index, nextBetween(chance, 0, 1) === 0 ? 'a' : 'b');
    return [{ kind: 'hand-moved', at, train, to }];
  },
];

/** So many mishaps of any kind at any time up to `length` physical ms, in no order. */
export function drawMishaps(
  world: World,
  count: number,
  lawless: boolean,
  length: number,
  chance: RandomStream,
): readonly Fault[] {
  const draws = lawless ? [...LAWFUL, ...LAWLESS] : LAWFUL;
  return Array.from({ length: count }, () =>
    pick(draws, chance)(world, nextBetween(chance, 0, length), chance),
  ).flat();
}
