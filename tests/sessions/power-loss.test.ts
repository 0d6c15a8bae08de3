import { describe, expect, it } from 'vitest';
import { expectUnharmed, SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { faultCases } from '../support/fault-cases.js';
import { rehearse } from '../support/rehearse.js';

describe('trains that run on within what they declare after a loss of power harm nothing', () => {
  let alarms = 0;

  it.each(faultCases('run-on'))(
    '%s',
    (_, { railway, seed, faults }) => {
      const report = rehearse(railway, { seed, faults });
      expectUnharmed(report);
      alarms += report.figures.alarms;
    },
    SESSION_TIMEOUT,
  );

  it('and every loss of power raises an alarm', () => {
    expect(alarms).toBeGreaterThan(0);
  });
});
