import type { StepObserver } from '@blockbell/rehearsal';
import { describe, expect, it } from 'vitest';
import { cameToItsEnd, SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { faultCases } from '../support/fault-cases.js';
import { rehearse } from '../support/rehearse.js';

/** Time for every other train to come to a stand in, physical ms. */
const STOPPED_WITHIN = 8000;

/** Counts emergencies, and notes trains other than the runaway that still moved when they should have stood. */
function watchEmergencies(runaway: number) {
  const seen = { emergencies: 0, stillMoving: [] as string[] };
  let since: number | null = null;
  const watch: StepObserver = ({ state, simulated, world, now }) => {
    const { kind } = state.session.phase;
    const isEmergency = (kind === 'stopped' || kind === 'powerless') && state.session.begun;
    if (since !== null && (!isEmergency || now - since >= STOPPED_WITHIN)) {
      for (const { train, speed } of simulated.truth.trains()) {
        const { label } = world.stock.trains[train]!.file;
        if (train !== runaway && speed !== 0) seen.stillMoving.push(`${label} at ${now} ms`);
      }
    }
    if (!isEmergency) since = null;
    else if (since === null) {
      since = now;
      seen.emergencies += 1;
    }
  };
  return { seen, watch };
}

describe('a runaway ends orderly: only excused contacts, every other train stopped', () => {
  let emergencies = 0;

  it.each(faultCases('runaway'))(
    '%s',
    (_, { railway, seed, faults }) => {
      const runaway = faults.find((fault) => fault.kind === 'runaway')!;
      const { seen, watch } = watchEmergencies(runaway.train);
      const report = rehearse(railway, { seed, faults, watch });
      const { broken, excused } = report.violations;
      expect({ broken, stillMoving: seen.stillMoving, ...cameToItsEnd(report) }).toEqual({
        broken: [],
        stillMoving: [],
        ended: true,
        notRun: [],
      });
      expect(excused.filter(({ excuse }) => excuse !== 'runaway')).toEqual([]);
      emergencies += seen.emergencies;
    },
    SESSION_TIMEOUT,
  );

  it('and many of them were emergencies', () => {
    expect(emergencies).toBeGreaterThanOrEqual(10);
  });
});
