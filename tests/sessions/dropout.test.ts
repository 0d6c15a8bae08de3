import { describe, expect, it } from 'vitest';
import type { StepObserver } from '@blockbell/rehearsal';
import { expectUnharmed, SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { faultCases } from '../support/fault-cases.js';
import { rehearse } from '../support/rehearse.js';

describe('a section that reads free for up to 800 ms harms nothing', () => {
  let felt = 0;

  it.each(faultCases('dropout'))(
    '%s',
    (_, { railway, seed, faults }) => {
      let isFelt = false;
      const watch: StepObserver = ({ simulated }, input) => {
        if (input.kind !== 'device' || input.event.kind !== 'section') return;
        const { section, occupied } = input.event;
        const { active } = simulated.truth.faults[0]!;
        isFelt ||= active && !occupied && simulated.truth.section(section).occupied;
      };
      expectUnharmed(rehearse(railway, { seed, faults, watch }));
      if (isFelt) felt += 1;
    },
    SESSION_TIMEOUT,
  );

  it('and trains stood in some of them', () => {
    expect(felt).toBeGreaterThan(0);
  });
});
