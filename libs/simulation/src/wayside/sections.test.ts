import { compileLayout, compileStock } from '@blockbell/railway';
import { ms } from '@blockbell/railway/track';
import { describe, expect, it } from 'vitest';
import { DETECTOR, passingLoop } from '../test-support/layouts.js';
import { openRig } from '../test-support/rig.js';
import type { RigSetup } from '../test-support/rig.js';
import { locomotive, stockOf, train } from '../test-support/stock.js';

const layout = compileLayout(passingLoop());
const oneTrain = compileStock(stockOf([train(1, [{ car: 'coach', count: 2 }])], [locomotive(1)]));

const run = (setup: Partial<RigSetup> = {}, until = 20_000) => {
  const rig = openRig({ layout, stock: oneTrain, places: [['west', 'b']], ...setup });
  rig.run(1, 80);
  rig.until(until);
  return rig;
};

/** The same run seen by detectors without delay: when things really happened, to the next whole ms. */
const prompt = compileLayout(
  passingLoop({ worstDelay: { occupied: ms(0), free: ms(0), report: ms(0) } }),
);
const really = run({ layout: prompt });
const PASSED = ['points-w', 'main-1', 'main-2', 'main-3', 'points-e'];

describe('detectors', () => {
  it('tell each edge within their worst delay, never before the fact', () => {
    for (let seed = 0; seed < 30; seed += 1) {
      const rig = run({ seed });
      for (const id of PASSED) {
        const told = rig.edges(id).filter(([at]) => at > 200);
        const facts = really.edges(id).filter(([at]) => at > 200);
        expect(told.map(([, occupied]) => occupied)).toEqual([true, false]);
        told.forEach(([at, occupied], index) => {
          const delay = at - facts[index]![0];
          expect(delay).toBeGreaterThanOrEqual(0);
          expect(delay).toBeLessThanOrEqual(DETECTOR.worstDelay[occupied ? 'occupied' : 'free']);
        });
      }
    }
  });

  it('use the whole of their delay', () => {
    const delays: number[] = [];
    for (let seed = 0; seed < 60; seed += 1) {
      const at = run({ seed }, 6000)
        .edges('points-w')
        .find((edge) => edge[1])![0];
      delays.push(at - really.edges('points-w').find((edge) => edge[1])![0]);
    }
    expect(Math.min(...delays)).toBeLessThan(8);
    expect(Math.max(...delays)).toBeGreaterThan(52);
  });

  it('see axles only: ahead of a train with unseen wagons at its end they free early', () => {
    const trains = [
      train(1, [
        { car: 'coach', count: 1 },
        { car: 'wagon', count: 4 },
      ]),
    ];
    const stock = compileStock(stockOf(trains, [locomotive(1)]));
    const rig = run({ layout: prompt, stock });
    const freed = rig.edges('main-1').find(([at, occupied]) => at > 200 && !occupied)![0];
    const again = openRig({ layout: prompt, stock, places: [['west', 'b']] });
    again.run(1, 80);
    again.until(freed);
    // The section's end lies 400 mm into the block and the last axle 300 mm behind the front.
    const { front, rear } = again.simulated.truth.train(0)!;
    expect(front.element).toBe(again.element('main'));
    expect(Math.abs(front.offset - 300 - 400)).toBeLessThan(0.2);
    // The wagons still stand over it.
    expect(rear.offset).toBeCloseTo(front.offset - 660, 6);
  });

  it('say nothing of track they do not see: between them the train is nowhere', () => {
    const rig = run({ layout: prompt }, 40_000);
    const left = rig.edges('east-1').find(([at, occupied]) => at > 200 && !occupied)!;
    const seen = rig.edges('east-3').find(([, occupied]) => occupied)!;
    // 420 mm of train over 300 mm of unseen track: both ends are seen for a while.
    expect(seen[0]).toBeLessThan(left[0]);
    const short = compileStock(stockOf([train(1)], [locomotive(1)]));
    const alone = run({ layout: prompt, stock: short }, 40_000);
    const gone = alone.edges('east-1').find(([at, occupied]) => at > 200 && !occupied)!;
    const back = alone.edges('east-3').find(([, occupied]) => occupied)!;
    // 120 mm further at step 80, which is 160 mm/s.
    expect(back[0] - gone[0]).toBeCloseTo(750, -1);
  });
});

describe('decoders that answer', () => {
  it('are told within the worst delay, after the two packets an address takes (NMRA S-9.3.2, RCN-217: 12–21 ms)', () => {
    for (let seed = 0; seed < 30; seed += 1) {
      const rig = run({ seed });
      for (const id of PASSED) {
        const [known, gone] = rig.reports(id);
        const entered = really.edges(id).find((edge) => edge[1])![0];
        expect(known![1]).toEqual([1]);
        expect(known![0] - entered).toBeGreaterThanOrEqual(21);
        expect(known![0] - entered).toBeLessThanOrEqual(DETECTOR.worstDelay.report);
        expect(gone![1]).toEqual([]);
      }
    }
  });

  it('are told nowhere by detectors without identity, nor when they do not answer', () => {
    const deaf = compileLayout(passingLoop({ reportsIdentity: false }));
    expect(run({ layout: deaf }).events('report')).toEqual([]);
    const silent = compileStock(stockOf([train(1)], [locomotive(1, { answers: false })]));
    const rig = run({ stock: silent });
    expect(rig.events('report')).toEqual([]);
    expect(rig.edges('main-2').map((edge) => edge[1])).toContain(true);
  });

  it.each([
    [1, []],
    [2, [1, 2]],
  ])(
    'more than %i at once are unreadable: a double-headed train reports %j',
    (readsAtOnce, both) => {
      const trains = [train(1, [], [{ locomotive: locomotive(2).id, facing: 'forward' }])];
      const stock = compileStock(stockOf(trains, [locomotive(1), locomotive(2)]));
      const rig = run({ layout: compileLayout(passingLoop({ readsAtOnce })), stock });
      const told = rig.reports('main-2').map(([, decoders]) => decoders);
      expect(told).toEqual([[1], both, [2], []]);
      expect(rig.edges('main-2').map((edge) => edge[1])).toEqual([false, true, false]);
    },
  );
});
