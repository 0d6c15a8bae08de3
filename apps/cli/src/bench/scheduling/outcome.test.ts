import { describe, expect, it } from 'vitest';
import { columns, shortfalls, type Outcome } from './outcome.js';

const outcome: Outcome = {
  name: 'one',
  cost: 103,
  bound: 90,
  status: 'searching',
  first: 150,
  best: 1500,
  whole: 60_000,
  faults: [],
};

describe('the outcome of planning a published problem', () => {
  it('reaches its target within what is allowed above the best known', () => {
    expect(shortfalls(outcome, { bestKnown: 100, allowed: 0.03 })).toEqual([]);
    expect(shortfalls(outcome, { bestKnown: 100, allowed: 0.02 })).toEqual([
      'costs 103, may cost 102',
    ]);
  });

  it('falls short without a plan, with a late first plan, or with a plan that is not valid', () => {
    const target = { bestKnown: 100, allowed: 1, firstPlan: 100 };
    expect(shortfalls(outcome, target)).toEqual(['first plan after 150 ms, wanted within 100']);
    expect(shortfalls({ ...outcome, cost: null }, undefined)).toEqual(['no plan']);
    expect(shortfalls({ ...outcome, faults: ['a fault'] }, undefined)).toEqual(['a fault']);
  });

  it('is told with its gap', () => {
    expect(columns(outcome, { bestKnown: 100, allowed: 0 })).toEqual([
      'one',
      '103',
      '100',
      '3.00 %',
      '90',
      '150',
      '1.50',
      '60.00',
      'searching',
    ]);
    expect(columns({ ...outcome, cost: 100 }, { bestKnown: 100, allowed: 0 })[3]).toBe('0 %');
  });
});
