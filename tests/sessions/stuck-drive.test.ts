import { describe, expect, it } from 'vitest';
import { expectUnharmed, SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { faultCases } from '../support/fault-cases.js';
import { rehearse } from '../support/rehearse.js';

describe('a drive that sticks until it is mended harms nothing', () => {
  let alarms = 0;

  it.each(faultCases('stuck-drive'))(
    '%s',
    (_, { railway, seed, faults }) => {
      const report = rehearse(railway, { seed, faults });
      expectUnharmed(report);
      alarms += report.figures.alarms;
    },
    SESSION_TIMEOUT,
  );

  it('and raises an alarm when it is needed', () => {
    expect(alarms).toBeGreaterThan(0);
  });
});
