import { describe, expect, it } from 'vitest';
import { Planner } from '../search/planner.js';
import { headOn, following, straightTrain, sumOfEnds } from '../testing/problems.js';
import { randomProblem } from '../testing/random-problem.js';
import type { Plan, PlanEvent, Problem } from './problem.js';
import { verifyPlan } from './verify-plan.js';

/** Both trains over r0 and r1, five each, release time 9. */
const valid: Plan = {
  objectiveValue: 34,
  events: [
    { time: 0, train: 0, operation: 0 },
    { time: 5, train: 0, operation: 1 },
    { time: 10, train: 0, operation: 2 },
    { time: 14, train: 1, operation: 0 },
    { time: 19, train: 1, operation: 1 },
    { time: 24, train: 1, operation: 2 },
  ],
};

const rules = (problem: Problem, plan: Plan): Set<string> =>
  new Set(verifyPlan(problem, plan).map(({ rule }) => rule));

const changed = (event: number, change: Partial<PlanEvent>): Plan => ({
  ...valid,
  events: valid.events.map((old, i) => (i === event ? { ...old, ...change } : old)),
});

describe('a plan is refused', () => {
  it('but not when it is right', () => {
    expect(verifyPlan(following, valid)).toEqual([]);
  });

  it.each([
    ['unknown', 'names a train there is not', changed(0, { train: 2 })],
    ['unknown', 'names an operation there is not', changed(5, { operation: 3 })],
    ['unknown', 'has a time that is not whole', changed(5, { time: 24.5 })],
    ['list-order', 'goes back in time', changed(3, { time: 9 })],
    [
      'path',
      'leaves an operation out',
      { ...valid, events: valid.events.filter((_, i) => i !== 1) },
    ],
    ['path', 'does not begin at the entry', { ...valid, events: valid.events.slice(1) }],
    ['path', 'does not reach the exit', { ...valid, events: valid.events.slice(0, -1) }],
    ['path', 'does an operation twice', { ...valid, events: [...valid.events, valid.events[5]!] }],
    ['path', 'forgets a train', { ...valid, events: valid.events.slice(0, 3) }],
    ['min-duration', 'cuts an operation short', changed(5, { time: 23 })],
    ['resource', 'does not wait for the release', changed(3, { time: 13 })],
    ['objective', 'claims another cost', { ...valid, objectiveValue: 33 }],
  ] as const)('by the rule “%s” when it %s', (rule, _, plan) => {
    expect(rules(following, plan)).toContain(rule);
  });

  it.each([
    ['too early', { startLb: 1 }],
    ['too late', { startUb: -1 }],
  ])('by the rule “start-bounds” when a train starts %s', (_, bounds) => {
    const [first, second] = following.trains;
    const problem = {
      ...following,
      trains: [[{ ...first![0]!, ...bounds }, ...first!.slice(1)], second!],
    };
    expect(rules(problem, valid)).toEqual(new Set(['start-bounds']));
  });

  const handover = sumOfEnds([straightTrain([['r0', 5]]), straightTrain([['r0', 5]])]);
  const events: PlanEvent[] = [
    { time: 0, train: 0, operation: 0 },
    { time: 5, train: 0, operation: 1 },
    { time: 5, train: 1, operation: 0 },
    { time: 10, train: 1, operation: 1 },
  ];

  it('by the rule “resource” when a handover at one moment stands in the wrong order', () => {
    expect(verifyPlan(handover, { objectiveValue: 15, events })).toEqual([]);
    const [a, b, c, d] = events as [PlanEvent, PlanEvent, PlanEvent, PlanEvent];
    expect(rules(handover, { objectiveValue: 15, events: [a, c, b, d] })).toEqual(
      new Set(['resource']),
    );
  });

  it('by the rule “resource” when trains change places, in whatever order', () => {
    const moves = [0, 1].map((train) => ({ time: 5, train, operation: 1 }));
    const starts = [0, 1].map((train) => ({ time: 0, train, operation: 0 }));
    const ends = [0, 1].map((train) => ({ time: 10, train, operation: 2 }));
    for (const order of [moves, [...moves].reverse()])
      expect(rules(headOn, { objectiveValue: 20, events: [...starts, ...order, ...ends] })).toEqual(
        new Set(['resource']),
      );
  });

  it('by the rule “resource” when a train takes what a train that has run out keeps for ever', () => {
    const keeping = sumOfEnds([
      [
        {
          startLb: 0,
          startUb: Infinity,
          minDuration: 0,
          resources: [{ resource: 'r0', releaseTime: 0 }],
          successors: [],
        },
      ],
      straightTrain([['r0', 5]]),
    ]);
    const plan = {
      objectiveValue: 105,
      events: [
        { time: 0, train: 0, operation: 0 },
        { time: 100, train: 1, operation: 0 },
        { time: 105, train: 1, operation: 1 },
      ],
    };
    expect(rules(keeping, plan)).toEqual(new Set(['resource']));
  });
});

it('a plan of the planner is refused when any one of its events comes earlier', () => {
  let mutants = 0;
  for (let seed = 0; seed < 80; seed++) {
    const problem = randomProblem(seed);
    const planner = new Planner(problem);
    while (planner.state.status === 'searching') planner.continue(10_000);
    const { plan } = planner.state;
    if (plan === null) continue;
    plan.events.forEach((event, i) => {
      // A planner that hurries every train leaves no event that could come earlier.
      const events = plan.events.map((old, j) =>
        j === i ? { ...event, time: event.time - 1 } : old,
      );
      const faults = verifyPlan(problem, { ...plan, events });
      expect(faults, `seed ${seed}, event ${i}`).not.toEqual([]);
      mutants++;
    });
  }
  expect(mutants).toBeGreaterThan(300);
});
