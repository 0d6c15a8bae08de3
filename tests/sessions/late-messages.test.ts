import { describe, it } from 'vitest';
import { expectUnharmed, SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { faultCases } from '../support/fault-cases.js';
import { rehearse } from '../support/rehearse.js';

describe('messages up to 250 ms later than the detectors’ worst harm nothing', () => {
  it.each(faultCases('late'))(
    '%s',
    (_, { railway, seed, faults }) => {
      expectUnharmed(rehearse(railway, { seed, faults }));
    },
    SESSION_TIMEOUT,
  );
});
