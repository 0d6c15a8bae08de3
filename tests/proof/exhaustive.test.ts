import {
  explore,
  QUICK_BOUNDS,
  SMALL_RAILWAYS,
  type Bounds,
  type Exploration,
  type Scenario,
} from '@blockbell/rehearsal';
import { validateLayout, validateStock } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';

const TIMEOUT = 600_000;

function explored(scenario: Scenario, bounds: Bounds): Exploration {
  const run = explore(scenario, bounds);
  for (;;) {
    const { done, value } = run.next();
    if (done === true) return value;
  }
}

const railway = (name: string): Scenario => SMALL_RAILWAYS.find((it) => it.name === name)!;

describe.each(SMALL_RAILWAYS.map(({ name }) => name))('%s', (name) => {
  it('is a layout without faults', () => {
    const { layout, stock } = railway(name);
    expect(validateLayout(layout)).toEqual([]);
    expect(validateStock(stock)).toEqual([]);
  });

  it(
    'keeps every invariant in every state',
    () => {
      const { complete, violation, ends } = explored(railway(name), QUICK_BOUNDS);
      expect(violation).toBeNull();
      expect(complete).toBe(true);
      expect(ends).toBeGreaterThan(0);
    },
    TIMEOUT,
  );
});
