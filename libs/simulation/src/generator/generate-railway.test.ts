import {
  blockOf,
  compileLayout,
  compileStock,
  compileTimetable,
  opposite,
  standingRoom,
  validateLayout,
  validateStock,
  validateTimetable,
  type Heading,
  type Layout,
  type Stock,
  type Timetable,
} from '@blockbell/railway';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  generateRailway,
  type GeneratedRailway,
  type GeneratorOptions,
} from './generate-railway.js';

const anyOptions: fc.Arbitrary<GeneratorOptions> = fc
  .record({
    seed: fc.integer({ min: -1_000_000, max: 1_000_000 }),
    sections: fc.oneof(
      fc.integer({ min: 10, max: 60 }),
      fc.integer({ min: 60, max: 400 }),
      fc.integer({ min: 400, max: 900 }),
    ),
    crowd: fc.double({ min: 0, max: 1, noNaN: true }),
    singleLineShare: fc.double({ min: 0, max: 1, noNaN: true }),
    servicesEach: fc.double({ min: 0, max: 5, noNaN: true }),
    balloonLoops: fc.boolean(),
  })
  .map(({ crowd, servicesEach, ...rest }) => {
    const trains = Math.max(1, Math.floor((rest.sections / 30) * crowd));
    return { ...rest, trains, services: Math.floor(trains * servicesEach) };
  });

function faultsOf({ layout, stock, timetable }: GeneratedRailway) {
  const own = [...validateLayout(layout), ...validateStock(stock)];
  if (own.length > 0) return own;
  return validateTimetable(timetable, compileLayout(layout), compileStock(stock));
}

describe('a generated railway', () => {
  it('is valid, has exactly the sections, trains and stored places asked for', () => {
    fc.assert(
      fc.property(anyOptions, (options) => {
        const railway = generateRailway(options);
        expect(faultsOf(railway)).toEqual([]);
        expect(railway.layout.sections).toHaveLength(options.sections);
        expect(railway.stock.trains).toHaveLength(options.trains);
        const places = railway.timetable.storedPlaces.map(({ block }) => block);
        expect(new Set(places).size).toBe(options.trains);
      }),
      { numRuns: 30, seed: 7 },
    );
  });

  it('has at least the share of single line asked for, and services as wanted', () => {
    fc.assert(
      fc.property(anyOptions, (options) => {
        const { layout, timetable } = generateRailway(options);
        expect(singleShare(layout.elements.map(({ id }) => id))).toBeGreaterThanOrEqual(
          options.singleLineShare,
        );
        if (layout.stations.length > 2 && options.services !== 1) {
          expect(timetable.services).toHaveLength(options.services);
        }
      }),
      { numRuns: 60, seed: 8 },
    );
  });

  it('starts safe: trains can do all their work one after the other while the rest stand', () => {
    fc.assert(
      fc.property(anyOptions, (options) => {
        const files = generateRailway(options);
        const layout = compileLayout(files.layout);
        const stock = compileStock(files.stock);
        expect(stuckAlone(layout, stock, compileTimetable(files.timetable, layout, stock))).toEqual(
          [],
        );
      }),
      { numRuns: 40, seed: 9 },
    );
  });

  it.each([40, 90, 160])('starts safe even with as many trains as %i sections take', (sections) => {
    for (const [seed, singleLineShare] of [0, 0.5, 1].entries()) {
      const files = fullest({ seed, sections, singleLineShare });
      const layout = compileLayout(files.layout);
      const stock = compileStock(files.stock);
      const timetable = compileTimetable(files.timetable, layout, stock);
      expect(stuckAlone(layout, stock, timetable)).toEqual([]);
    }
  });

  it('is the same for the same options and another for another seed', () => {
    const options = { seed: 5, sections: 120, trains: 4, singleLineShare: 0.5, services: 12 };
    expect(generateRailway(options)).toEqual(generateRailway(options));
    const other = generateRailway({ ...options, seed: 6 });
    expect(other.layout.elements).not.toEqual(generateRailway(options).layout.elements);
  });

  it.each([16, 60])('takes %i trains on 2,040 sections with 40 % single line', (trains) => {
    const options = { seed: 1, sections: 2040, trains, singleLineShare: 0.4, services: 3 * trains };
    const railway = generateRailway(options);
    expect(faultsOf(railway)).toEqual([]);
    expect(railway.layout.sections).toHaveLength(2040);
    expect(railway.layout.reversingSections).toHaveLength(2);
    expect(railway.layout.stations.filter(({ kind }) => kind === 'staging-yard')).toHaveLength(2);
    expect(railway.stock.trains.some(({ canReverse }) => !canReverse)).toBe(true);
  });

  it('is drawn without two ports of different places on one point', () => {
    const options = { seed: 3, sections: 900, trains: 9, singleLineShare: 0.3, services: 20 };
    const { layout } = generateRailway(options);
    const joined = new Map(
      layout.joins.flatMap(
        ([one, other]) =>
          [
            [one, other],
            [other, one],
          ] as const,
      ),
    );
    const byPoint = new Map<string, string[]>();
    for (const { id, draw } of layout.elements) {
      for (const [port, [x, y]] of Object.entries(draw?.ports ?? {})) {
        const place = `${draw?.level} ${x} ${y}`;
        byPoint.set(place, [...(byPoint.get(place) ?? []), `${id}.${port}`]);
      }
    }
    const apart = [...byPoint.values()].filter(
      ([one = '', other]) => other !== undefined && joined.get(one) !== other,
    );
    expect(apart).toEqual([]);
  });

  it('refuses what it cannot make, and says why', () => {
    const options = { seed: 1, sections: 60, trains: 2, singleLineShare: 0.5, services: 4 };
    expect(() => generateRailway({ ...options, sections: 9 })).toThrow('10 to 10000, not 9');
    expect(() => generateRailway({ ...options, singleLineShare: 2 })).toThrow('0 to 1, not 2');
    expect(() => generateRailway({ ...options, trains: 50 })).toThrow(
      /room for \d+ trains, not for 50/,
    );
  });
});

/** The railway with the greatest number of trains that it takes. */
function fullest(
  options: Pick<GeneratorOptions, 'seed' | 'sections' | 'singleLineShare'>,
): GeneratedRailway {
  let fitting: GeneratedRailway | null = null;
  for (let trains = 1; ; trains += 1) {
    try {
      fitting = generateRailway({ ...options, trains, services: 3 * trains });
    } catch (error) {
      if (error instanceof RangeError && fitting !== null) return fitting;
      throw error;
    }
  }
}

/** Blocks of line on single track against those along the way; a double line counts once. */
function singleShare(ids: readonly string[]): number {
  const single = ids.filter((id) => /^L\d+l\d+$/.test(id)).length;
  const double = ids.filter((id) => /^L\d+e\d+$/.test(id)).length;
  return single / (single + double);
}

/** Trains that cannot get through their work by themselves, as their number and the service. */
function stuckAlone(layout: Layout, stock: Stock, timetable: Timetable): readonly string[] {
  const places = [...timetable.storedPlaces];
  return timetable.workings.flatMap((working, train) => {
    const start = places[train];
    if (working === null || start === undefined || start === null) return [];
    const others = new Set(
      places.flatMap((it, index) => (it === null || index === train ? [] : [blockOf(it)])),
    );
    const canReverse = stock.trains[train]?.file.canReverse === true;
    const length = stock.trains[train]?.length ?? 0;
    let standing: readonly Heading[] = [start];
    for (const index of working.services) {
      for (const call of timetable.services[index]?.calls.slice(1) ?? []) {
        const wanted = new Map(
          call.tracks.flatMap(({ blocks }) => blocks.map((it) => [it, blocks])),
        );
        standing = reachable(layout, standing, others).filter((heading) => {
          const blocks = wanted.get(blockOf(heading));
          return (
            blocks !== undefined && (!call.stops || standingRoom(layout, blocks, heading) >= length)
          );
        });
        if (call.stops && canReverse) standing = standing.flatMap((it) => [it, opposite(it)]);
      }
      if (standing.length === 0) return [`train ${train} in service ${index}`];
    }
    places[train] = standing[0] ?? null;
    return [];
  });
}

/** All headings a train can come to without turning, over blocks in which no other train stands. */
function reachable(
  layout: Layout,
  from: readonly Heading[],
  occupied: ReadonlySet<number>,
): readonly Heading[] {
  const found = new Set<Heading>();
  const open = [...from];
  for (let heading = open.pop(); heading !== undefined; heading = open.pop()) {
    for (const index of layout.routesFrom[heading] ?? []) {
      const to = layout.routes[index]?.to;
      if (to === undefined || found.has(to) || occupied.has(blockOf(to))) continue;
      found.add(to);
      open.push(to);
    }
  }
  return [...found];
}
