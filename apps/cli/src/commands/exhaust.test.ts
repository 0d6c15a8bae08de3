import type { Exploration } from '@blockbell/rehearsal';
import { describe, expect, it } from 'vitest';
import { runRecorded } from '../testing/run-recorded.js';

const UNDISTURBED = ['exhaust', 'junction', '--quick', '--disturbances', '0'];

describe('blockbell exhaust', () => {
  it('goes through the railway named, and says how many states it has', async () => {
    const { exit, out } = await runRecorded(...UNDISTURBED);
    expect(exit).toBe(0);
    expect(out).toMatch(/^junction: \d+ states, \d+ transitions /);
    expect(out).toContain('every invariant holds in every state');
  });

  it('gives the same as JSON', async () => {
    const { exit, out } = await runRecorded(...UNDISTURBED, '--json');
    const [report] = JSON.parse(out) as Exploration[];
    expect(exit).toBe(0);
    expect(report).toMatchObject({ scenario: 'junction', complete: true, violation: null });
  });

  it('fails where it gave up before all was gone through', async () => {
    const { exit, out } = await runRecorded(...UNDISTURBED, '--states', '20');
    expect(exit).toBe(1);
    expect(out).toContain('Broken off');
  });

  it('refuses a railway that there is not', async () => {
    const { exit, err } = await runRecorded('exhaust', 'nowhere');
    expect(exit).toBe(2);
    expect(err).toContain('there is no small railway nowhere');
  });
});
