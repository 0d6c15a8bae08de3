import { describe, it } from 'vitest';
import { expectUnharmed, SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { faultCases } from '../support/fault-cases.js';
import { rehearse } from '../support/rehearse.js';

describe('a decoder that answers no more harms nothing', () => {
  it.each(faultCases('silent-decoder'))(
    '%s',
    (_, { railway, seed, faults }) => {
      expectUnharmed(rehearse(railway, { seed, faults }));
    },
    SESSION_TIMEOUT,
  );
});
