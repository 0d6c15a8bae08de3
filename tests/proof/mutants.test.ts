import { afterAll, describe, expect, it } from 'vitest';
import { applies, cleanMutants, mutants, runMutant } from '../support/mutant-run.mjs';

const TIMEOUT = 1_200_000;
const all = mutants();

afterAll(cleanMutants);

describe('rules broken on purpose', () => {
  it('are a dozen or more, each with what it breaks and the test that must notice', () => {
    expect(all.length).toBeGreaterThanOrEqual(12);
    for (const { breaks, tests } of all) {
      expect(breaks).toMatch(/\.$/);
      expect(tests).toMatch(/\.test\.ts/);
    }
  });

  it.each(all.map(({ name }) => name))('%s applies to the sources as they are', (name) => {
    expect(applies(all.find((it) => it.name === name)!)).toBe(true);
  });

  // All of them: `npm run mutants`.
  it.each(['turnout-not-proven', 'ghost-reset-unrestricted'])(
    '%s is caught',
    async (name) => {
      const { verdict } = await runMutant(all.find((it) => it.name === name)!);
      expect(verdict).toBe('caught');
    },
    TIMEOUT,
  );
});
