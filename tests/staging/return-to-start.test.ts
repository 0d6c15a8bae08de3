import { exampleFiles } from '@blockbell/examples';
import {
  blockOf,
  compileLayout,
  compileWorld,
  createSession,
  heldBy,
  longestIn,
  type EngineState,
  type Layout,
  type LayoutFile,
  type StockFile,
  type StoredPlaceFile,
  type TimetableFile,
  type World,
} from '@blockbell/railway';
import { runSession } from '@blockbell/rehearsal';
import { planReturn, type ReturnPlan } from '@blockbell/staging';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';

interface Files {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
}

function filesOf(name: 'demo' | 'passing-loop'): Files {
  const { layout, stock, timetable } = exampleFiles(name);
  return {
    layout: JSON.parse(layout) as LayoutFile,
    stock: JSON.parse(stock) as StockFile,
    timetable: JSON.parse(timetable) as TimetableFile,
  };
}

/** A session whose trains stand elsewhere, each certainly. */
function standing(files: Files, layout: Layout, places: readonly StoredPlaceFile[]): EngineState {
  const timetable = {
    ...files.timetable,
    services: [],
    connections: [],
    workings: [],
    storedPlaces: places,
  };
  const state = createSession(compileWorld(files.layout, files.stock, timetable, layout));
  for (const train of state.trains) train.confirmed = train.activity.kind !== 'absent';
  for (const section of state.sections) section.belief = section.claim >= 0 ? 'occupied' : 'clear';
  return state;
}

/** Runs the plan over the layout, move after move; by train, where it stands then, or what was held by another. */
function runPlan(
  { layout, stock }: World,
  state: EngineState,
  plan: ReturnPlan,
): Map<string, string> | string {
  const held = state.trains.map(({ path }) => path.map(({ element }) => element));
  const facing = state.trains.map(({ path, frontLeads }) => ({
    heading: path.at(-1)?.heading ?? -1,
    frontLeads,
  }));
  for (const { train, turns, routes } of plan.moves) {
    const at = facing[train]!;
    if (turns) facing[train] = { heading: at.heading ^ 1, frontLeads: !at.frontLeads };
    for (const index of routes) {
      const route = layout.routes[index]!;
      if (route.from !== facing[train]!.heading) return `route ${route.id} does not begin there`;
      const needs = heldBy(layout, route.steps);
      const other = held.findIndex((own, k) => k !== train && own.some((it) => needs.includes(it)));
      if (other >= 0) return `${stock.trains[other]!.file.label} is on ${route.id}`;
      facing[train] = { ...facing[train]!, heading: route.to };
    }
    held[train] = [blockOf(facing[train]!.heading)];
  }
  return new Map(
    facing.map(({ heading, frontLeads }, train) => [
      stock.trains[train]!.file.id,
      `${layout.elements[blockOf(heading)]!.id} ${((heading & 1) === 0) === frontLeads ? 'b' : 'a'}`,
    ]),
  );
}

describe('return to start', () => {
  const files = filesOf('demo');
  const layout = compileLayout(files.layout);
  const world = compileWorld(files.layout, files.stock, files.timetable, layout);
  const { storedPlaces } = files.timetable;

  it('brings every train back from any places of one another in which it fits, or lists it for a person', () => {
    const yard = storedPlaces.filter(({ block }) => block.startsWith('Y'));
    const lengthOf = (id: string): number =>
      world.stock.trains.find(({ file }) => file.id === id)!.length;
    const roomIn = (id: string): number =>
      longestIn(layout, [layout.elements.findIndex((it) => it.id === id)]);
    fc.assert(
      fc.property(fc.shuffledSubarray([...yard.keys()], { minLength: yard.length }), (order) => {
        const moved = yard.map((place, at) => ({ ...place, block: yard[order[at]!]!.block }));
        fc.pre(moved.every(({ train, block }) => lengthOf(train) <= roomIn(block)));
        const places = storedPlaces.map(
          (it) => moved.find(({ train }) => train === it.train) ?? it,
        );
        const state = standing(files, layout, places);
        const plan = planReturn(world, state);
        const end = runPlan(world, state, plan);
        if (typeof end === 'string') throw new Error(end);
        const left = plan.left.map(({ train }) => world.stock.trains[train]!.file.id);
        for (const { train, block, towards } of storedPlaces) {
          if (!left.includes(train)) expect(end.get(train)).toBe(`${block} ${towards}`);
        }
        expect(left.length).toBeLessThan(yard.length);
      }),
      { numRuns: 2, examples: [[[1, 2, 3, 4, 5, 6, 0]]] },
    );
  });

  it('moves nobody whose place is not certain, and says who is left in whose way', () => {
    const at = (id: string): number => world.stock.trains.findIndex(({ file }) => file.id === id);
    const blockOfTrain = (id: string) => storedPlaces.find(({ train }) => train === id)!.block;
    const swapped = storedPlaces.map((place) => {
      if (place.train === 'T101') return { ...place, block: blockOfTrain('T102') };
      return place.train === 'T102' ? { ...place, block: blockOfTrain('T101') } : place;
    });
    const state = standing(files, layout, swapped);
    state.trains[at('T102')]!.identity.certainty = 'ambiguous';
    const { moves, left } = planReturn(world, state, 20_000);
    expect(moves).toEqual([]);
    expect(left.map(({ train, code }) => [train, code])).toEqual([
      [at('T101'), expect.stringMatching('in-the-way|not-found')],
      [at('T102'), 'not-to-be-moved'],
    ]);
    expect(left[1]!.why).toBe('It is not certain where 102 stands.');
  });

  it('takes a train off the list only where it stands the right way round', () => {
    const loop = filesOf('passing-loop');
    const small = compileWorld(loop.layout, loop.stock, loop.timetable);
    const [first, ...others] = loop.timetable.storedPlaces;
    const turned = { ...first!, towards: first!.towards === 'a' ? 'b' : 'a' } as const;
    const plan = planReturn(small, standing(loop, small.layout, [turned, ...others]));
    expect(plan.moves).toEqual([]);
    expect(plan.left).toMatchObject([{ train: 0, code: 'no-way' }]);
  });
});

describe('a session with return to start', () => {
  const elsewhere = (
    files: Files,
    seed: number,
  ): { trains: string[]; left: number; broken: number } => {
    const session = runSession({ ...files, seed, returns: true });
    let next = session.next();
    while (next.done !== true) next = session.next();
    const { nextLineUp, returns, violations, ended } = next.value;
    expect(ended).toBe(true);
    const now = new Map(nextLineUp.map((it) => [it.train, `${it.block} ${it.towards}`]));
    return {
      trains: files.timetable.storedPlaces
        .filter(({ train, block, towards }) => now.get(train) !== `${block} ${towards}`)
        .map(({ train }) => train),
      left: returns.at(-1)!.plan.left.length,
      broken: violations.broken.length,
    };
  };

  it.each([1, 2, 3])(
    'ends as it began where both trains end in the other’s place, seed %i',
    (seed) => {
      expect(elsewhere(filesOf('passing-loop'), seed)).toEqual({ trains: [], left: 0, broken: 0 });
    },
  );

  it('ends as it began in the demo, five trains of which end elsewhere by their timetable', () => {
    expect(elsewhere(filesOf('demo'), 1)).toEqual({ trains: [], left: 0, broken: 0 });
  });
});
