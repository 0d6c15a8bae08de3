import { describe, expect, it } from 'vitest';
import { QUICK_BOUNDS } from './bounds.js';
import { explore, type Exploration } from './explore.js';
import { junction } from './railways/through-lines.js';
import type { Bounds } from './scenario.js';

const UNDISTURBED: Bounds = { ...QUICK_BOUNDS, disturbances: 0, paces: 'every', moments: 'ends' };

function explored(bounds: Bounds, patience = Infinity): Exploration {
  const run = explore(junction(), bounds);
  let next = run.next();
  for (let told = 1; next.done !== true; told++) next = run.next(told >= patience);
  return next.value;
}

describe('going through the states of a railway', () => {
  it('finds the same states every time', () => {
    const [one, other] = [explored(UNDISTURBED), explored(UNDISTURBED)];
    expect(one).toEqual(other);
    expect(one.complete).toBe(true);
  });

  it('says that it is not complete where it gives up or is broken off', () => {
    expect(explored({ ...UNDISTURBED, states: 50 })).toMatchObject({
      complete: false,
      violation: null,
    });
    expect(explored(UNDISTURBED, 1)).toMatchObject({ complete: false, violation: null });
  });
});
