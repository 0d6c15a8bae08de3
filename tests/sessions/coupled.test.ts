import { describe, expect, it } from 'vitest';
import { cameToItsEnd, SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { exampleRailway } from '../support/railways.js';
import { rehearse } from '../support/rehearse.js';

describe('a train that is hung on behind another before the start', () => {
  it.each([
    [0, 1],
    [1, 0],
  ])(
    'is missed while it hangs there, taken off and put back, and does its work (%i, behind it %i)',
    (train, other) => {
      const seen = new Set<string>();
      const report = rehearse(exampleRailway('passing-loop'), {
        seed: 1,
        faults: [{ kind: 'coupled', at: 100, train, other }],
        watch: ({ simulated, state }) => {
          if (simulated.truth.train(train)?.carries !== other) return;
          seen.add(state.trains[other]!.confirmed ? 'believed where it stood' : 'missed');
        },
      });
      expect([...seen]).toEqual(['missed']);
      expect(report.violations).toEqual({ broken: [], excused: [] });
      expect(cameToItsEnd(report)).toEqual({ ended: true, notRun: [] });
    },
    SESSION_TIMEOUT,
  );
});
