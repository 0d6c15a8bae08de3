import { compileWorld, type YardRulesFile } from '@blockbell/railway';
import { bookedYard, yardNow, type Whereabouts, type YardKnown } from '@blockbell/staging';
import { describe, expect, it } from 'vitest';
import { exampleRailway } from '../support/railways.js';

const { layout, stock, timetable } = exampleRailway('demo');
const world = compileWorld(layout, stock, timetable);
const station = layout.stations.findIndex(({ kind }) => kind === 'staging-yard');
const yard = bookedYard(world, station);
const label = (train: number): string => world.stock.trains[train]!.file.label;
const element = (id: string): number => world.layout.elementByName.get(id as never)!;

/** Everybody where they are stored. */
const atStart: Whereabouts[] = stock.trains.map(({ id }) => {
  const place = timetable.storedPlaces.find(({ train }) => train === id)!;
  return { holds: [element(place.block)], calls: [] };
});

const known = (trains: readonly Whereabouts[], used: Record<string, number> = {}): YardKnown => ({
  trains,
  used,
  fast: world.timetable.start,
});

const yardTrack = (name: string): readonly number[] =>
  world.layout.stations[station]!.tracks.find((it) => it.name === name)!.blocks;
const coming = world.stock.trains.findIndex(({ file }) => file.label === '64');
const ROTATION: Omit<YardRulesFile, 'yard'> = {
  arrivals: [{ order: [{ by: 'rotation' }] }],
  nothingFits: [],
  departures: { order: [], requests: [] },
  moveUp: 'on-arrival',
};

describe('the demo’s yard as its session begins', () => {
  const now = yardNow(world, yard, known(atStart), null);

  it('shows who stands in which track, with the length used and free', () => {
    const [first] = now.tracks;
    expect(first).toMatchObject({ name: '1', trains: [{ behind: [] }] });
    expect(first!.trains.map(({ train }) => label(train))).toEqual(['101']);
    expect(first!.used).toBe(world.stock.trains[first!.trains[0]!.train]!.length);
    expect(first!.free).toBe(0);
    const empty = now.tracks.find(({ trains }) => trains.length === 0)!;
    expect([empty.name, empty.used, empty.free]).toEqual(['8', 0, empty.length]);
  });

  it('tells who leaves next, as booked', () => {
    expect(label(now.nextOut[0]!.train)).toBe('101');
    const times = now.nextOut.map(({ depart }) => depart!);
    expect(times).toEqual([...times].sort((a, b) => a - b));
  });

  it('tells who comes, and what each track would mean', () => {
    const next = now.nextIn.map(({ train }) => label(train));
    expect(next).toContain('64');
    const coming = now.nextIn.find(({ train }) => label(train) === '64')!;
    expect(coming.options.filter(({ hasRoom }) => hasRoom).map(({ track }) => track)).toEqual([
      '8',
    ]);
    const taken = coming.options.find(({ track }) => track === '1')!;
    expect({ ...taken, buries: taken.buries.map(label), buriedBy: [] }).toMatchObject({
      hasRoom: false,
      buries: [],
    });
  });
});

it('tells what the rules would take now, with the tracks that got a train before in rotation', () => {
  const gone = atStart.map((where, train) =>
    ['1', '2'].some((name) => yardTrack(name).includes(where.holds[0]!)) && train !== coming
      ? { holds: [], calls: where.calls }
      : where,
  );
  const rules = { ...ROTATION, yard: layout.stations[station]!.id };
  const taken = (used: Record<string, number>): string | null | undefined =>
    yardNow(world, yard, known(gone, used), rules).nextIn.find(({ train }) => train === coming)
      ?.byRules;
  expect(taken({})).toBe('1');
  expect(taken({ [`${station} 0`]: 1 })).toBe('2');
  expect(taken({ [`${station} 0`]: 1, [`${station} 1`]: 3, [`${station} 7`]: 2 })).toBe('1');
});

it('a train that has left its track on the way out is booked nowhere in it', () => {
  const gone = atStart.map((where, train): Whereabouts => {
    const [stay] = yard.stays.filter((it) => it.train === train && it.stop === 0);
    const [call] = stay?.calls ?? [];
    return label(train) === '101' && call !== undefined
      ? { ...where, calls: [{ ...call, departed: 1 }] }
      : where;
  });
  const now = yardNow(world, yard, known(gone), null);
  expect(now.nextOut.map(({ train }) => label(train))).not.toContain('101');
  expect(now.tracks[0]!.trains.map(({ train, depart }) => [label(train), depart])).toEqual([
    ['101', null],
  ]);
});
