import { describe, expect, it } from 'vitest';
import { secondTries, totals } from './totals.mjs';

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

describe('the tests that passed only at the second try', () => {
  const result = (fullName: string, status: string, ...failureMessages: string[]) => ({
    status,
    fullName,
    failureMessages,
  });

  it('are told with their file and what went wrong at first', () => {
    const assertionResults = [
      result('steady', 'passed'),
      result('shaky', 'passed', 'no such button'),
      result('broken', 'failed', 'no such list', 'no such list'),
    ];
    expect(secondTries({ testResults: [{ name: 'board.test.ts', assertionResults }] })).toEqual([
      'board.test.ts, “shaky”: no such button',
    ]);
  });
});
