import { compileLayout, compileStock, compileWorld, validateTimetable } from '@blockbell/railway';
import { generateRailway } from '@blockbell/simulation';
import type { World } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { allocate, bookedYard, withTracks, type BookedYard } from '@blockbell/staging';
import { SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { exampleRailway } from '../support/railways.js';
import { rehearse } from '../support/rehearse.js';

const { layout, stock, timetable } = exampleRailway('demo');
const demo = compileWorld(layout, stock, timetable);

const yardsOf = (world: World): BookedYard[] =>
  world.layout.stations.flatMap(({ file, index }) =>
    file.kind === 'staging-yard' ? [bookedYard(world, index)] : [],
  );
const [undercroft] = yardsOf(demo);
const staysOf = (label: string) =>
  undercroft!.stays.filter(({ train }) => demo.stock.trains[train]!.file.label === label);

describe('what the demo books in its hidden yard', () => {
  it('is every call there, and every train that stands there from the start', () => {
    const booked = new Set(
      undercroft!.stays.flatMap(({ calls }) =>
        calls.map(({ service, call }) => `${timetable.services[service]!.id} ${call}`),
      ),
    );
    const inFile = timetable.services.flatMap(({ id, calls }) =>
      calls.flatMap(({ station }, call) => (station === 'undercroft' ? [`${id} ${call}`] : [])),
    );
    expect(inFile.filter((it) => !booked.has(it))).toEqual(
      // The first service of a train that stands at its first call begins there without a stop of its own.
      timetable.workings.flatMap(({ train, services }) => {
        const stored = timetable.storedPlaces.find((it) => it.train === train)!;
        const first = timetable.services.find(({ id }) => id === services[0])!;
        const begins = first.calls[0]!.station === 'undercroft' && /^[XY]\d/.test(stored.block);
        return begins && !booked.has(`${first.id} 0`) ? [`${first.id} 0`] : [];
      }),
    );
  });

  it('goes through the tracks of the loop one way, and comes back out of those of the railcars', () => {
    for (const { berths } of staysOf('101')) {
      for (const berth of berths) expect([berth.in, berth.out]).toEqual(['b', 'a']);
    }
    const [, , second] = staysOf('31');
    for (const berth of second!.berths) expect([berth.in, berth.out]).toEqual(['a', 'a']);
  });

  it('is allocated so that nobody is buried, every train to a track it is booked for first', () => {
    const { unplaced, burials, cost, proven } = allocate(undercroft!);
    expect({ unplaced, burials, cost, proven }).toEqual({
      unplaced: [],
      burials: [],
      cost: 0,
      proven: true,
    });
  });

  it('becomes a timetable with one track for each call, as sound as before', () => {
    const allocation = allocate(undercroft!);
    const file = withTracks(timetable, demo, undercroft!, allocation);
    expect(validateTimetable(file, compileLayout(layout), compileStock(stock))).toEqual([]);
    const [yard] = yardsOf(compileWorld(layout, stock, file));
    for (const { berths } of yard!.stays) expect(berths).toHaveLength(1);
    expect(allocate(yard!).burials).toEqual([]);
  });

  it(
    'which runs as a whole session, every train in the track that it was given',
    () => {
      const file = withTracks(timetable, demo, undercroft!, allocate(undercroft!));
      const report = rehearse({ layout, stock, timetable: file }, { seed: 1 });
      expect(report.services.notRun).toEqual([]);
      expect(report.violations.broken).toEqual([]);
    },
    SESSION_TIMEOUT,
  );
});

describe('yards of generated railways', () => {
  it.each([1, 2, 3, 4])('can be allocated, each train where it can come to (seed %i)', (seed) => {
    const made = generateRailway({
      seed,
      sections: 200,
      trains: 8,
      services: 24,
      singleLineShare: 0.5,
    });
    const world = compileWorld(made.layout, made.stock, made.timetable);
    const yards = yardsOf(world);
    expect(yards.length).toBeGreaterThan(0);
    for (const yard of yards) {
      const { unplaced, proven } = allocate(yard);
      expect({ unplaced, proven }).toEqual({ unplaced: [], proven: true });
      // Their yards end at buffers: whoever comes in leaves by the same end.
      for (const { berths } of yard.stays) {
        for (const berth of berths)
          expect(berth.needs).toBeLessThanOrEqual(yard.tracks[berth.track]!.room);
      }
    }
  });
});
