import {
  FaultDrawer,
  RATES,
  runSession,
  SMALL_RAILWAYS,
  type FaultRates,
} from '@blockbell/rehearsal';
import { describe, expect, it } from 'vitest';
import type { Railway } from '../support/railways.js';

/** The least distance that a train called on keeps from the block in which another stands, mm. */
const GAP = 100;
/** Restricted speed on the model, 25 km/h in 1:87, and what trains of this railway may run faster than told, mm/s. */
const RESTRICTED = (25 * 1_000_000) / 3600 / 87;
const SPREAD = 1.06;

/** Ordinary faults, ten times as often: a session has but a few dozen edges. */
const RATE: FaultRates = {
  ...RATES.ordinary,
  dropouts: RATES.ordinary.dropouts * 10,
  lostReports: RATES.ordinary.lostReports * 10,
  misreads: RATES.ordinary.misreads * 10,
  stalls: RATES.ordinary.stalls * 10,
};

/** P from West and Q from East come to one platform track of two blocks. Detectors bridge ordinary lost contacts. */
function platform(): Railway {
  const found = SMALL_RAILWAYS.find(({ name }) => name === 'shared-platform')!;
  const detectorTypes = found.layout.detectorTypes.map((it) => ({
    ...it,
    holdOff: (it.holdOff * 3) as typeof it.holdOff,
  }));
  return { ...found, layout: { ...found.layout, detectorTypes } };
}

/** One session: its report, how many faults it had, how often a train was called on, how near the two came and how fast that one came in. */
function session(rates: FaultRates, seed: number) {
  const seen = { faults: 0, calledOn: 0, nearest: Infinity, fastest: 0 };
  const run = runSession({ ...platform(), seed }, undefined, (rehearsal) => {
    const drawer = new FaultDrawer(rehearsal, rates, seed);
    const { elements, elementByName } = rehearsal.world.layout;
    const [pa, pb] = [elementByName.get('PA')!, elementByName.get('PB')!];
    rehearsal.observe((_, __, { effects }) => {
      seen.faults = drawer.script.length;
      for (const effect of effects) {
        if (effect.kind !== 'device' || effect.command.kind !== 'set-aspect') continue;
        if (effect.command.aspect === 'call-on') seen.calledOn++;
      }
      const { truth } = rehearsal.simulated;
      const [p, q] = [truth.train(0)!, truth.train(1)!];
      const west = p.stretches.find(({ element }) => element === pa);
      const east = q.stretches.find(({ element }) => element === pb);
      if (west !== undefined && east !== undefined) {
        seen.nearest = Math.min(seen.nearest, elements[pa]!.length - west.to + east.from);
      }
      rehearsal.state.trains.forEach(({ path }, train) => {
        const { front, speed } = truth.train(train)!;
        const isIn = path.some((it) => it.calledOn === true && it.element === front.element);
        if (isIn) seen.fastest = Math.max(seen.fastest, Math.abs(speed));
      });
    });
  });
  for (;;) {
    const { done, value } = run.next();
    if (done === true) return { report: value, ...seen };
  }
}

const seeds = (from: number, count: number): number[] =>
  Array.from({ length: count }, (_, index) => from + index);

describe('of two trains that come from both sides to one platform track the second is called on', () => {
  let calledOn = 0;
  let faults = 0;

  it.each([
    ['without faults', RATES.none, seeds(1, 5)],
    ['with faults', RATE, seeds(101, 40)],
  ] as const)('%s', (_, rates, each) => {
    for (const seed of each) {
      const { report, ...seen } = session(rates, seed);
      const { ended, services, violations } = report;
      expect({ seed, broken: violations.broken, ended, notRun: services.notRun }).toEqual({
        seed,
        broken: [],
        ended: true,
        notRun: [],
      });
      expect(seen.nearest, `seed ${seed}`).toBeGreaterThanOrEqual(GAP);
      expect(seen.fastest, `seed ${seed}`).toBeLessThanOrEqual(RESTRICTED * SPREAD);
      calledOn += Math.min(seen.calledOn, 1);
      faults += seen.faults;
    }
  });

  it('in almost every session, among many faults', () => {
    expect(calledOn).toBeGreaterThan(40);
    expect(faults).toBeGreaterThan(100);
  });
});
