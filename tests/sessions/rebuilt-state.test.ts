import { differenceFromRebuilt, type StepObserver } from '@blockbell/rehearsal';
import { describe, expect, it } from 'vitest';
import { Chance } from '../support/chance.js';
import { SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { faultCases } from '../support/fault-cases.js';
import { exampleRailway, smallRailway } from '../support/railways.js';
import { rehearse, type RehearseOptions } from '../support/rehearse.js';
import type { Railway } from '../support/railways.js';

/** Rehearses, comparing what the engine keeps up with what follows from the paths after every `every`th step. */
function expectSame(railway: Railway, every: number, options: RehearseOptions): void {
  let compared = 0;
  const watch: StepObserver = ({ world, state }) => {
    if (state.revision % every !== 0) return;
    compared += 1;
    const { revision } = state;
    const difference = differenceFromRebuilt(world, state);
    if (difference !== null) expect.fail(`revision ${revision}: ${difference}`);
  };
  rehearse(railway, { ...options, watch });
  expect(compared).toBeGreaterThan(50);
}

describe('holders, claims, signals and limits are what follows from the paths of the trains', () => {
  it(
    'on the demo, after every seventh step',
    () => expectSame(exampleRailway('demo'), 7, { seed: 5 }),
    SESSION_TIMEOUT,
  );

  it('on the passing loop, after every step', () =>
    expectSame(exampleRailway('passing-loop'), 1, { seed: 5 }));

  it.each([1, 2, 3, 4, 5])(
    'on a generated railway with seed %i, after every step',
    (seed) => expectSame(smallRailway(new Chance(seed)), 1, { seed }),
    SESSION_TIMEOUT,
  );

  it.each(
    (['run-on', 'stuck-drive', 'runaway'] as const).flatMap((kind) =>
      faultCases(kind).filter((_, at) => at >= 10 && at % 7 === 0),
    ),
  )(
    'with a fault, after every step: %s',
    (_, { railway, seed, faults }) => expectSame(railway, 1, { seed, faults }),
    SESSION_TIMEOUT,
  );
});
