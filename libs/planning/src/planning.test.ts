import type { ExampleName } from '@blockbell/examples';
import { exampleRules } from '@blockbell/examples/rules';
import {
  blocksOf,
  compileWorld,
  opposite,
  type Command,
  type DispatchPlan,
  type World,
} from '@blockbell/railway';
import { passSeconds, ScriptedDispatcher, type Rehearsal } from '@blockbell/rehearsal';
import { verifyPlan } from '@blockbell/scheduling';
import { describe, expect, it } from 'vitest';
import { readPlan } from './plan/read-plan.js';
import { PlanMaker, searchPlan } from './plan/plan-maker.js';
import { warmStart } from './plan/warm-start.js';
import { buildProblem } from './problem/build-problem.js';
import { tracksByRules } from './problem/tracks-by-rules.js';
import { lookAt } from './situation/look.js';
import type { Situation } from './situation/situation.js';
import { filesOf, rehearsalOf } from './testing/example-rehearsal.js';

const HORIZON = 180_000;

/** A session after so many physical ms. */
function sessionAt(name: ExampleName, until: number): Rehearsal {
  const rehearsal = rehearsalOf(filesOf(name), 4);
  const seconds = passSeconds(rehearsal, until);
  while (!seconds.next().done);
  return rehearsal;
}

const situationOf = ({ world, state, now }: Rehearsal): Situation =>
  structuredClone(lookAt(world, state, now));

/** A plan from a situation, made on a world of its own, with what it was made of. */
function planned(name: ExampleName, situation: Situation, effort = 600_000) {
  const world = compileWorld(...filesOf(name));
  const planning = buildProblem(world, situation, HORIZON);
  const solution = searchPlan(planning, warmStart(planning, null, situation.now), effort);
  if (solution === null) throw new Error('no plan was found');
  return {
    world,
    planning,
    solution,
    plan: readPlan(world, situation, planning, solution),
  };
}

/** Pairs of steps of two trains over track that both need, of which nothing says which comes first. */
function unordered({ layout }: World, { steps }: DispatchPlan): string[] {
  const before = steps.map(() => new Set<number>());
  const last = new Map<number, number>();
  steps.forEach(({ train, after }, place) => {
    const own = last.get(train);
    for (const earlier of [...after, ...(own === undefined ? [] : [own])]) {
      before[place]!.add(earlier);
      for (const each of before[earlier]!) before[place]!.add(each);
    }
    last.set(train, place);
  });
  return steps.flatMap((step, place) =>
    steps.slice(0, place).flatMap((other, earlier) => {
      const meets =
        other.train !== step.train &&
        (other.route === step.route || layout.routes[step.route]!.conflicts.includes(other.route));
      return meets && !before[place]!.has(earlier)
        ? [`${layout.routes[other.route]!.id} and ${layout.routes[step.route]!.id}`]
        : [];
    }),
  );
}

/** Steps of a train that do not go on from where the one before ends. */
function broken({ layout }: World, { steps }: DispatchPlan): string[] {
  const ends = new Map<number, number>();
  return steps.flatMap(({ train, route }) => {
    const { from, to, id } = layout.routes[route]!;
    const end = ends.get(train) ?? from;
    ends.set(train, to);
    return end === from || end === opposite(from) ? [] : [id];
  });
}

describe.each([
  ['passing-loop', 30_000],
  ['passing-loop', 90_000],
  ['demo', 120_000],
  ['demo', 500_000],
] as const)('a plan for %s after %d ms', (name, until) => {
  const session = sessionAt(name, until);
  const situation = situationOf(session);

  it('is a valid answer to the problem, and has every two steps over the same track in order', () => {
    const { world, planning, solution, plan } = planned(name, situation);
    expect(verifyPlan(planning.problem, solution)).toEqual([]);
    expect(plan.steps.length).toBeGreaterThan(3);
    expect(unordered(world, plan)).toEqual([]);
    expect(broken(world, plan).length).toBe(0);
  });

  it('is the same each time, and leaves the session as it is', () => {
    const before = JSON.stringify(session.state);
    const [first, second] = [1, 2].map(() => {
      const maker = new PlanMaker(compileWorld(...filesOf(name)), {
        horizon: HORIZON,
        effort: 300_000,
      });
      return [maker.plan(situation), maker.plan(situation)];
    });
    expect(second).toEqual(first);
    expect(JSON.stringify(session.state)).toBe(before);
  });
});

describe('what a dispatcher wishes', () => {
  const rehearsal = sessionAt('demo', 300_000);
  const { world, state } = rehearsal;
  /** Gives the first of these commands that is taken. */
  const give = (commands: readonly Command[]): Command => {
    const taken = commands.find((command) => rehearsal.command('Ada', command) === null);
    if (taken === undefined) throw new Error('none was taken');
    return taken;
  };
  const trains = state.trains.map((_, train) => train);

  it('is planned: the track chosen for a call is the one a train comes to', () => {
    const chosen = give(
      trains.flatMap((train): Command[] => {
        const graph = world.graphs[train]!;
        const stop = graph.stops[graph.placeOf(state.trains[train]!.node).leg + 1];
        const [ref] = stop?.calls ?? [];
        const last = stop?.tracks.at(-1);
        if (ref === undefined || last === undefined || stop!.tracks.length < 2) return [];
        return [{ kind: 'choose-track', train, ...ref, track: last.name }];
      }),
    );
    if (chosen.kind !== 'choose-track') throw new Error('a track was chosen');
    const [wish] = state.dispatching.wishes.tracks;
    const blocks = blocksOf(world.graphs[wish!.train]!, wish!)!;
    const { plan } = planned('demo', situationOf(rehearsal));
    const ends = plan.steps
      .filter(({ train, leg }) => train === wish!.train && leg === wish!.leg)
      .map(({ route }) => world.layout.routes[route]!.to >> 1);
    expect(blocks).toContain(ends.at(-1));
  });

  it('is planned: who would go second over some track goes first where that is asked', () => {
    const before = planned('demo', situationOf(rehearsal)).plan;
    const maker = new PlanMaker(compileWorld(...filesOf('demo')), {
      horizon: HORIZON,
      effort: 600_000,
    });
    const pairs = trains.flatMap((first) => trains.map((second) => ({ first, second })));
    const isKept = pairs.some(({ first, second }) => {
      const command: Command = { kind: 'go-first', train: first, before: second, first: true };
      if (rehearsal.command('Ada', command) !== null) return false;
      const { elements } = state.dispatching.wishes.firsts.at(-1)!;
      const [mine, others] = [takes(before, first, elements), takes(before, second, elements)];
      // Some pairs can't be turned round any more: then the plan is made without the wish.
      const after = others >= 0 && others < mine ? maker.plan(situationOf(rehearsal)) : null;
      rehearsal.command('Ada', { ...command, first: false });
      if (after === null) return false;
      const last = takes(after, second, elements);
      return (
        takes(after, first, elements) >= 0 && (last < 0 || takes(after, first, elements) < last)
      );
    });
    expect(isKept).toBe(true);
  });

  /** The place in the plan of the first step of a train over any of these elements; −1: none. */
  const takes = ({ steps }: DispatchPlan, of: number, elements: readonly number[]): number =>
    steps.findIndex(
      ({ train, route }) =>
        train === of &&
        world.layout.routes[route]!.steps.some(({ element }) => elements.includes(element)),
    );
});

describe('the rules of a staging yard', () => {
  const rehearsal = sessionAt('demo', 200_000);
  const dispatcher = new ScriptedDispatcher(rehearsal);
  const { world } = rehearsal;
  const train = world.stock.trainByName.get('T34')!;
  const example = exampleRules(world.layout.file.id)!;
  const follow = (tracks: readonly string[]): void => {
    const yard = {
      ...example.yards[0]!,
      arrivals: [{ only: { is: 'track' as const, of: tracks }, order: [] }],
      nothingFits: [],
    };
    const rules = { ...example, yards: [yard] };
    expect(rehearsal.command('Ada', { kind: 'follow-staging-rules', rules })).toBeNull();
  };
  const wish = () =>
    tracksByRules(compileWorld(...filesOf('demo')), situationOf(rehearsal))[train] ?? null;
  const block = (id: string): number => world.layout.elementByName.get(id)!;

  it('are planned by: a train comes to the track that they would give it', () => {
    follow(['X3']);
    while (wish() === null && rehearsal.now < 330_000) {
      rehearsal.runTo(rehearsal.now + 2000);
      dispatcher.look();
    }
    const found = wish();
    expect(found?.blocks).toEqual([block('X3')]);
    const { plan } = planned('demo', situationOf(rehearsal));
    const ends = plan.steps
      .filter((step) => step.train === train && step.leg === found!.leg)
      .map(({ route }) => world.layout.routes[route]!.to >> 1);
    expect(ends.at(-1)).toBe(block('X3'));
    // Others stand in these two.
    follow(['X1', 'X2']);
    expect(wish()).toBeNull();
  });
});
