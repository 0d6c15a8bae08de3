import { describe, expect, it } from 'vitest';
import { totals } from './totals.mjs';

const file = (status: string, ...tests: string[]) => ({
  status,
  assertionResults: tests.map((test) => ({ status: test })),
});

describe('the totals of a test run', () => {
  it('add up over all files', () => {
    const report = { testResults: [file('passed', 'passed', 'passed'), file('failed', 'failed')] };
    expect(totals(report)).toEqual({ passed: 2, failed: 1 });
  });

  it('count a file that did not load as a failure', () => {
    expect(totals({ testResults: [file('failed')] })).toEqual({ passed: 0, failed: 1 });
  });

  it('count a file whose hook failed as a failure, its tests as not run', () => {
    expect(totals({ testResults: [file('failed', 'skipped', 'passed')] })).toEqual({
      passed: 1,
      failed: 1,
    });
  });
});
