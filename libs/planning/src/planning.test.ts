import { exampleFiles, type ExampleName } from '@blockbell/examples';
import { compileWorld, opposite, type DispatchPlan, type World } from '@blockbell/railway';
import { Rehearsal, ScriptedDispatcher } from '@blockbell/rehearsal';
import { verifyPlan } from '@blockbell/scheduling';
import { describe, expect, it } from 'vitest';
import { readPlan } from './plan/read-plan.js';
import { PlanMaker, searchPlan } from './plan/plan-maker.js';
import { warmStart } from './plan/warm-start.js';
import { buildProblem } from './problem/build-problem.js';
import { lookAt } from './situation/look.js';
import type { Situation } from './situation/situation.js';

type Files = Parameters<typeof compileWorld>;

const HORIZON = 180_000;

function filesOf(name: ExampleName): Files {
  const { layout, stock, timetable } = exampleFiles(name);
  return [JSON.parse(layout), JSON.parse(stock), JSON.parse(timetable)] as Files;
}

/** A session after so many physical ms. */
function sessionAt(name: ExampleName, until: number): Rehearsal {
  const [layout, stock, timetable] = filesOf(name);
  const rehearsal = new Rehearsal({ layout, stock, timetable, seed: 4 });
  const dispatcher = new ScriptedDispatcher(rehearsal);
  while (rehearsal.now < until) {
    rehearsal.runTo(rehearsal.now + 1000);
    dispatcher.look();
  }
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
