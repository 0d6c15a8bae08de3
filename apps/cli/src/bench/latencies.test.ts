import { describe, expect, it } from 'vitest';
import { Latencies } from './latencies.js';

const of = (...values: readonly number[]) => {
  const latencies = new Latencies();
  for (const value of values) latencies.add(value);
  return latencies.summary();
};

describe('latencies', () => {
  it('are all zero without a value', () => {
    expect(of()).toEqual({ count: 0, mean: 0, p50: 0, p99: 0, p999: 0, max: 0 });
  });

  it('give the nearest rank as percentile', () => {
    const thousand = Array.from({ length: 1000 }, (_, index) => 1000 - index);
    expect(of(...thousand)).toEqual({
      count: 1000,
      mean: 500.5,
      p50: 500,
      p99: 990,
      p999: 999,
      max: 1000,
    });
    expect(of(7)).toEqual({ count: 1, mean: 7, p50: 7, p99: 7, p999: 7, max: 7 });
    expect(of(1, 100, 2)).toMatchObject({ p50: 2, p99: 100, max: 100 });
  });
});
