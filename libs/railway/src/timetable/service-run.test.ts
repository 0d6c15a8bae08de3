import { describe, expect, it } from 'vitest';
import { hasRun } from './service-run.js';
import type { Timetable } from './timetable.js';

/** One service over four calls, of which it passes the second without stopping. */
const timetable = {
  services: [{ calls: [true, false, true, true].map((stops) => ({ stops })) }],
} as unknown as Timetable;

const arrivals = (...calls: number[]) =>
  calls.map((call) => ({ service: 0, call, arrived: 60_000 * call }));

describe('whether a service has run', () => {
  it('has when its train arrived wherever it stops after the first call', () => {
    expect(hasRun(timetable, 0, arrivals(2, 3))).toBe(true);
  });

  it.each([
    ['has come nowhere', []],
    ['missed its last call', arrivals(2)],
    ['left out a call on the way', arrivals(3)],
    ['only set out for its last call', [...arrivals(2), { service: 0, call: 3, arrived: null }]],
    ['was another one', arrivals(2, 3).map((it) => ({ ...it, service: 1 }))],
  ])('has not when it %s', (_, runs) => {
    expect(hasRun(timetable, 0, runs)).toBe(false);
  });
});
