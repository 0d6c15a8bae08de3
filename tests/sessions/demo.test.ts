import { beforeAll, describe, expect, it } from 'vitest';
import type { SessionReport } from '@blockbell/rehearsal';
import { expectUnharmed, SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { exampleRailway } from '../support/railways.js';
import { rehearse } from '../support/rehearse.js';

describe('the demo session', () => {
  let report: SessionReport;

  beforeAll(() => {
    report = rehearse(exampleRailway('demo'), { seed: 1 });
  }, SESSION_TIMEOUT);

  it('comes to its end with every service run and no violation after any step', () => {
    expectUnharmed(report);
    expect(report.services.planned).toBeGreaterThanOrEqual(50);
    expect(report.services.run).toBe(report.services.planned);
    expect(report.punctuality.arrivals).toBeGreaterThanOrEqual(report.services.planned);
  });

  it('is no empty stage: whatever the report counts happens in it', () => {
    const { figures } = report;
    const counts = {
      steps: figures.steps,
      meets: figures.meets,
      waits: figures.waits.count,
      waited: figures.waits.total,
      longestWait: figures.waits.longest,
      grants: figures.grants,
      refused: figures.refusedAsUnsafe + figures.refusedForBudget,
      inferred: figures.identities.inferred,
      reported: figures.identities.reported,
      reversals: figures.reversals,
      throws: figures.throws,
    };
    expect(Object.entries(counts).filter(([, count]) => !(count > 0))).toEqual([]);
  });

  it('throws every turnout and uses every yard track', () => {
    const { turnouts, yardTracks } = report.figures;
    expect({ turnouts: turnouts.unused, yardTracks: yardTracks.unused }).toEqual({
      turnouts: [],
      yardTracks: [],
    });
    expect(turnouts.of).toBeGreaterThanOrEqual(40);
    expect(yardTracks.of).toBeGreaterThanOrEqual(11);
  });

  it('raises no alarm when nothing goes wrong', () => {
    expect(report.figures.alarms).toBe(0);
  });
});

it.each([2, 3, 4])(
  'the demo session with seed %i is run without harm',
  (seed) => {
    expectUnharmed(rehearse(exampleRailway('demo'), { seed }));
  },
  SESSION_TIMEOUT,
);
