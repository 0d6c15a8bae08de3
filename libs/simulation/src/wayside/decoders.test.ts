import { compileLayout, compileStock } from '@blockbell/railway';
import type { ReadDecoder, StockFile } from '@blockbell/railway/track';
import { describe, expect, it } from 'vitest';
import { passingLoop } from '../test-support/layouts.js';
import { openRig, type Rig } from '../test-support/rig.js';
import { address, locomotive, stockOf, train } from '../test-support/stock.js';

/** Two locomotives coupled front to front; each block end and each section reads as the detector says. */
const double = (consistAddress?: number): StockFile => {
  const file = train(1, [], [{ locomotive: locomotive(2).id, facing: 'backward' }]);
  const consist = consistAddress === undefined ? {} : { consistAddress: address(consistAddress) };
  return stockOf([{ ...file, ...consist }], [locomotive(1), locomotive(2)]);
};

const open = (
  stock: StockFile,
  detector: Parameters<typeof passingLoop>[0],
  looksTo: 'a' | 'b' = 'b',
): Rig => {
  const layout = compileLayout(passingLoop(detector));
  const rig = openRig({ layout, stock: compileStock(stock), places: [['west', looksTo]] });
  rig.until(1000);
  return rig;
};

/** All decoders told by any section of the block the train stands in. */
const told = (rig: Rig): ReadDecoder[] =>
  rig.events('report').flatMap(({ decoders }) => [...decoders]);

describe('decoders that answer', () => {
  it('crowd a detector that cannot tell so many apart: it says so and names none', () => {
    const rig = open(double(), { readsAtOnce: 1 });
    expect(rig.events('report')).toMatchObject([{ decoders: [], crowded: true }]);
  });

  it('are named again when enough have left', () => {
    const rig = open(double(), { readsAtOnce: 1 });
    for (const it of [1, 2]) rig.run(it, 60, it === 1);
    rig.until(30_000);
    const reports = rig.events('report');
    const crowdedAt = reports.findIndex(({ crowded }) => crowded);
    const { section } = reports[crowdedAt]!;
    const later = reports.slice(crowdedAt + 1).filter((report) => report.section === section);
    expect(later[0]).toMatchObject({ decoders: [address(2)] });
    expect(later[0]!.crowded).toBeUndefined();
  });

  it('answer with the one address of their consist where they have one', () => {
    expect(told(open(double(9), { readsAtOnce: 4 }))).toEqual([address(9)]);
    expect(told(open(double(), { readsAtOnce: 4 }))).toEqual([address(1), address(2)]);
  });

  it('tell which way round they stand where the detector can', () => {
    const detector = { readsAtOnce: 4, reportsOrientation: true };
    const ways = (looksTo: 'a' | 'b') =>
      told(open(double(), detector, looksTo)).map(({ number, facing }) => [number, facing]);
    expect(ways('b')).toEqual([
      [1, 'b'],
      [2, 'a'],
    ]);
    expect(ways('a')).toEqual([
      [1, 'a'],
      [2, 'b'],
    ]);
  });
});
