import { describe, expect, it } from 'vitest';
import type { Component, Operation, Problem } from '../problem/problem.js';
import { trainCosts } from './train-costs.js';

const operation = (...successors: number[]): Operation => ({
  startLb: 0,
  startUb: Infinity,
  minDuration: 1,
  resources: [],
  successors,
});

const delay = (at: number, threshold: number, coeff: number, increment = 0): Component => ({
  type: 'op_delay',
  train: 0,
  operation: at,
  threshold,
  coeff,
  increment,
});

/** Two platforms, 1 and 2, then one track, then two platforms again, 4 and 5. */
const twoCalls = [
  operation(1, 2),
  operation(3),
  operation(3),
  operation(4, 5),
  operation(6),
  operation(6),
  operation(),
];

const costs = (train: Problem['trains'][number], ...objective: Component[]) =>
  trainCosts({ trains: [train], objective }, 0).map(({ starts, ...price }) => [
    ...starts.map((start) => [start.operation, start.later]),
    price,
  ]);

describe('what a train pays', () => {
  it('is one for the platforms of a call, by the time of each, and another for the next call', () => {
    const components = [
      delay(1, 10, 2),
      delay(5, 30, 2),
      delay(2, 7, 2),
      delay(4, 30, 2),
      delay(6, 3, 1),
    ];
    expect(costs(twoCalls, ...components)).toEqual([
      [[1, 0], [2, 3], { threshold: 10, coeff: 2, increment: 0 }],
      [[5, 0], [4, 0], { threshold: 30, coeff: 2, increment: 0 }],
      [[6, 0], { threshold: 3, coeff: 1, increment: 0 }],
    ]);
  });

  it('is left apart where a path comes by none of them, or by two, or at another price', () => {
    const apart = (...components: Component[]) =>
      costs(twoCalls, ...components).map(([start]) => start);
    expect(apart(delay(1, 0, 2), delay(4, 0, 2), delay(5, 0, 2))).toEqual([
      [1, 0],
      [4, 0],
      [5, 0],
    ]);
    expect(apart(delay(1, 0, 2), delay(2, 0, 3))).toEqual([
      [1, 0],
      [2, 0],
    ]);
    expect(apart(delay(1, 0, 2), delay(1, 4, 2), delay(2, 0, 2))).toEqual([
      [1, 0],
      [1, 0],
      [2, 0],
    ]);
  });

  it('leaves out what costs nothing', () => {
    expect(costs(twoCalls, delay(1, 0, 0))).toEqual([]);
  });
});
