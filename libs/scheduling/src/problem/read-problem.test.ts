import { describe, expect, it } from 'vitest';
import { planCost } from './verify-plan.js';
import { readJobShop } from './read-job-shop.js';
import { readPlan, readProblem, writePlan } from './read-problem.js';

const places = (result: ReturnType<typeof readProblem> | ReturnType<typeof readPlan>): string[] =>
  result.ok ? [] : result.faults.map(({ place }) => place);

const problemOf = (trains: unknown, objective: unknown = []): string =>
  JSON.stringify({ trains, objective });

const exit = { min_duration: 0, successors: [] };

describe('the problem format', () => {
  it('fills in what is left out', () => {
    const result = readProblem(
      problemOf(
        [[{ min_duration: 3, successors: [1], resources: [{ resource: 'r' }] }, exit]],
        [{ type: 'op_delay', train: 0, operation: 1 }, { type: 'makespan' }],
      ),
    );
    expect(result).toEqual({
      ok: true,
      value: {
        trains: [
          [
            {
              startLb: 0,
              startUb: Infinity,
              minDuration: 3,
              resources: [{ resource: 'r', releaseTime: 0 }],
              successors: [1],
            },
            { startLb: 0, startUb: Infinity, minDuration: 0, resources: [], successors: [] },
          ],
        ],
        objective: [
          { type: 'op_delay', train: 0, operation: 1, threshold: 0, coeff: 0, increment: 0 },
          { type: 'makespan', coeff: 1 },
        ],
      },
    });
  });

  it.each([
    ['text that is not JSON', '{', ['file']],
    ['no lists', '{}', ['trains', 'objective']],
    ['a train without operations', problemOf([[]]), ['trains[0]']],
    ['a fraction', problemOf([[{ ...exit, min_duration: 1.5 }]]), ['trains[0][0].min_duration']],
    [
      'a negative duration',
      problemOf([[{ ...exit, min_duration: -1 }]]),
      ['trains[0][0].min_duration'],
    ],
    [
      'a step back',
      problemOf([
        [{ min_duration: 0, successors: [1] }, { min_duration: 0, successors: [1] }, exit],
      ]),
      ['trains[0][1].successors[0]', 'trains[0][2]'],
    ],
    [
      'two exits',
      problemOf([[{ min_duration: 0, successors: [1, 2] }, exit, exit]]),
      ['trains[0][1].successors'],
    ],
    [
      'a resource without a name',
      problemOf([[{ ...exit, resources: [{}] }]]),
      ['trains[0][0].resources[0].resource'],
    ],
    [
      'an unknown kind of cost',
      problemOf([[exit]], [{ type: 'x', train: 0, operation: 0 }]),
      ['objective[0].type'],
    ],
    [
      'a cost of no train',
      problemOf([[exit]], [{ type: 'op_delay', train: 1, operation: 0 }]),
      ['objective[0].train'],
    ],
    [
      'a negative weight',
      problemOf([[exit]], [{ type: 'op_delay', train: 0, operation: 0, coeff: -1 }]),
      ['objective[0].coeff'],
    ],
    [
      'costs beyond exact sums',
      problemOf(
        [[{ ...exit, start_lb: 1e9 }]],
        [{ type: 'op_delay', train: 0, operation: 0, coeff: 1e9 }],
      ),
      ['file'],
    ],
  ])('refuses %s with its place', (_, text, expected) => {
    expect(places(readProblem(text))).toEqual(expected);
  });

  it('reads plans, and refuses what is none', () => {
    const text = JSON.stringify({
      objective_value: 3,
      events: [{ time: 0, train: 0, operation: 0 }],
    });
    expect(readPlan(text)).toEqual({
      ok: true,
      value: { objectiveValue: 3, events: [{ time: 0, train: 0, operation: 0 }] },
    });
    expect(writePlan({ objectiveValue: 3, events: [{ time: 0, train: 0, operation: 0 }] })).toBe(
      text,
    );
    expect(places(readPlan('{"events":[{"time":0.5,"train":0}]}'))).toEqual([
      'objective_value',
      'events[0].time',
      'events[0].operation',
    ]);
  });
});

describe('job shops', () => {
  it('become trains that hold a machine until they have the next', () => {
    const result = readJobShop('2 2\n 0 3 1 2\n 1 4 0 1\n');
    expect(result.ok && result.value.trains.map((train) => train.length)).toEqual([3, 3]);
    expect(result.ok && result.value.trains[1]![0]).toMatchObject({
      minDuration: 4,
      resources: [{ resource: 'machine 1', releaseTime: 0 }],
    });
    const events = [
      { time: 5, train: 0, operation: 2 },
      { time: 8, train: 1, operation: 2 },
    ];
    expect(result.ok && planCost(result.value, { events })).toBe(8);
  });

  it.each([
    ['', ['line 1']],
    ['2 2\n0 1 1 1\n', ['file']],
    ['1 2\n0 1 1\n', ['line 2']],
    ['1 2\n0 1 2 1\n', ['line 2']],
    ['1 2\n0 1 x 1\n', ['line 2']],
  ])('are refused with the line: %j', (text, expected) => {
    const result = readJobShop(text);
    expect(result.ok ? [] : result.faults.map(({ place }) => place)).toEqual(expected);
  });
});
