import type { Operation, Problem } from '../problem/problem.js';

/** One operation of a train with a fixed route: its resource (none for an empty text) and least duration. */
export type Step = readonly [resource: string, minDuration: number];

/** A train that runs the steps one after another, and then an exit that holds nothing. */
export function straightTrain(
  steps: readonly Step[],
  releaseTime = 0,
  first: Partial<Operation> = {},
): Operation[] {
  const operations = steps.map(([resource, minDuration], i): Operation => ({
    startLb: 0,
    startUb: Infinity,
    minDuration,
    resources: resource === '' ? [] : [{ resource, releaseTime }],
    successors: [i + 1],
    ...(i === 0 ? first : {}),
  }));
  return [
    ...operations,
    { startLb: 0, startUb: Infinity, minDuration: 0, resources: [], successors: [] },
  ];
}

/** A problem whose cost is the sum of the ends of some trains (of all, unless named). */
export function sumOfEnds(
  trains: readonly Operation[][],
  counted: readonly number[] = trains.map((_, train) => train),
): Problem {
  return {
    trains,
    objective: counted.map((train) => ({
      type: 'op_delay',
      train,
      operation: trains[train]!.length - 1,
      threshold: 0,
      coeff: 1,
      increment: 0,
    })),
  };
}

/** A holds r1 and wants r0, B holds r0 and wants r1. */
export const headOn: Problem = sumOfEnds([
  straightTrain(
    [
      ['r1', 5],
      ['r0', 5],
    ],
    0,
    { startUb: 0 },
  ),
  straightTrain(
    [
      ['r0', 5],
      ['r1', 5],
    ],
    0,
    { startUb: 0 },
  ),
]);

/** Two trains one after the other over r0 and r1, with a release time. */
export const following: Problem = sumOfEnds([
  straightTrain(
    [
      ['r0', 5],
      ['r1', 5],
    ],
    9,
  ),
  straightTrain(
    [
      ['r0', 5],
      ['r1', 5],
    ],
    9,
  ),
]);

/** A over r0, r1; B over r1, r0; both start outside. */
export const crossing: Problem = sumOfEnds([
  straightTrain([
    ['', 0],
    ['r0', 5],
    ['r1', 5],
  ]),
  straightTrain([
    ['', 0],
    ['r1', 5],
    ['r0', 5],
  ]),
]);
