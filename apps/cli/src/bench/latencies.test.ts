import { describe, expect, it } from 'vitest';
import { Latencies } from './latencies.js';

const of = (...values: readonly number[]) => {
  const latencies = new Latencies();
  for (const value of values) latencies.add(value);
  return latencies.summary();
};

describe('latencies', () => {
  it('have none of their figures without a value', () => {
    expect(of()).toBeNull();
  });

  it('give the nearest rank as percentile', () => {
    const hundred = Array.from({ length: 100 }, (_, index) => 100 - index);
    expect(of(...hundred)).toEqual({ count: 100, mean: 50.5, p50: 50, p99: 99, max: 100 });
    expect(of(7)).toEqual({ count: 1, mean: 7, p50: 7, p99: 7, max: 7 });
    expect(of(1, 100, 2)).toMatchObject({ p50: 2, p99: 100, max: 100 });
  });
});
