import { expect, it } from 'vitest';
import { expectUnharmed } from '../support/expect-unharmed.js';
import { exampleRailway } from '../support/railways.js';
import { rehearse } from '../support/rehearse.js';

const railway = exampleRailway('passing-loop');

it.each([1, 2, 3, 4, 5, 6, 7, 8, 9, 10])(
  'the passing loop with seed %i: three meets in the loop, every service run',
  (seed) => {
    const report = rehearse(railway, { seed });
    expectUnharmed(report);
    expect(report.services).toMatchObject({ planned: 6, run: 6 });
    expect(report.figures.meets).toBe(3);
    expect(report.figures.turnouts.unused).toEqual([]);
  },
);
