import type { LayoutFile, StockFile } from '@blockbell/railway';
import type { Fault } from '@blockbell/simulation';
import { describe, expect, it } from 'vitest';
import { expectUnharmed, SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { exampleRailway, type Railway } from '../support/railways.js';
import { rehearse } from '../support/rehearse.js';

/** Blocks of the line between the stations, shorter than the goods train once cut. */
const LINE = ['L1', 'L2', 'L3', 'L4'];
const SEEDS = Array.from({ length: 20 }, (_, index) => index + 1);

/** The passing loop with its line blocks cut short, so that the goods train covers more than one of them. */
function shortBlocks(): Railway {
  return withLine((detection) => detection.map((part) => ({ ...part, length: part.length * 0.3 })));
}

/** The passing loop with its line seen at the block ends only: track that no detector sees lies between. */
function unseenBetween(): Railway {
  return withLine((detection) =>
    detection.map((part, index) => (index === 1 ? { ...part, section: null } : part)),
  );
}

type Detection = Extract<LayoutFile['elements'][number], { kind: 'block' }>['detection'];

function withLine(change: (detection: Detection) => readonly unknown[]): Railway {
  const { layout, ...rest } = exampleRailway('passing-loop');
  const elements = layout.elements.map((element) =>
    element.kind === 'block' && LINE.includes(element.id)
      ? { ...element, detection: change(element.detection) as Detection }
      : element,
  );
  const seen = new Set(
    elements.flatMap((element) =>
      element.kind === 'block'
        ? element.detection.map(({ section }) => section)
        : 'section' in element
          ? [element.section]
          : [],
    ),
  );
  const sections = layout.sections.filter(({ id }) => seen.has(id));
  return { ...rest, layout: { ...layout, elements, sections } };
}

const longest = ({ trains, cars, locomotives }: StockFile): number =>
  Math.max(
    ...trains.map(({ vehicles }) =>
      vehicles.reduce((sum, vehicle) => {
        const length =
          'car' in vehicle
            ? vehicle.count * cars.find(({ id }) => id === vehicle.car)!.length
            : locomotives.find(({ id }) => id === vehicle.locomotive)!.length;
        return sum + length;
      }, 0),
    ),
  );

/** A train stalls somewhere on its way and is nudged later. */
const stall = (seed: number): readonly Fault[] => [
  { kind: 'stall', at: 300_000 + seed * 45_000, train: seed % 2, duration: 20_000 },
];

describe('a train longer than its block', () => {
  const railway = shortBlocks();

  it('is what runs here', () => {
    const blocks = railway.layout.elements.filter(({ id }) => LINE.includes(id));
    for (const block of blocks) {
      if (block.kind !== 'block') throw new Error(`${block.id} is no block`);
      const length = block.detection.reduce((sum, part) => sum + part.length, 0);
      expect(length).toBeLessThan(longest(railway.stock));
    }
  });

  it.each(SEEDS)(
    'holds all it stands on and is found again after a stall, seed %i',
    (seed) => {
      expectUnharmed(rehearse(railway, { seed, faults: stall(seed) }));
    },
    SESSION_TIMEOUT,
  );
});

describe('track that no detector sees between sections', () => {
  const railway = unseenBetween();

  it.each(SEEDS)(
    'keeps the train that may be on it, seed %i',
    (seed) => {
      expectUnharmed(rehearse(railway, { seed, faults: stall(seed) }));
    },
    SESSION_TIMEOUT,
  );
});
