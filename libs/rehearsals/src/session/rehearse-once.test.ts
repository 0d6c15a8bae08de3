import { compileWorld } from '@blockbell/railway';
import { runSession } from '@blockbell/rehearsal';
import { describe, expect, it } from 'vitest';
import { drawDisturbances } from '../disturbances/draw.js';
import { USUAL_DISTURBANCES } from '../disturbances/usual.js';
import { loopPlan, planWith } from '../testing/loop.js';
import { rehearseOnce } from './rehearse-once.js';

describe('one of many rehearsals', () => {
  it('is a single run of the same seed, where nothing goes wrong', () => {
    const plan = loopPlan();
    const session = runSession({ ...plan, seed: 7 });
    let next = session.next();
    while (next.done !== true) next = session.next();
    const { digest, delays, duration } = next.value;
    const result = rehearseOnce(plan, 7);
    expect(result).toMatchObject({ digest, duration, ended: true, notRun: [], violations: 0 });
    const { entry, own, knockOn, recovered } = delays;
    expect(result.delay).toEqual({ entry, own, knockOn, recovered });
  });

  it('is the same again with the same seed, and another with another', () => {
    const plan = { ...loopPlan(), disturbances: USUAL_DISTURBANCES };
    const first = rehearseOnce(plan, 1);
    expect(rehearseOnce(plan, 1)).toEqual(first);
    expect(rehearseOnce(plan, 2).digest).not.toBe(first.digest);
  });

  it('says which trains stand elsewhere at the end', () => {
    // Three trips each: both end where the other began.
    expect(rehearseOnce(loopPlan(), 1).elsewhere).toEqual([0, 1]);
  });
});

/**
 * The trains meet at the loop. A may start late, and B, there long before, must wait for it; that B may start late too is made up by its
 * long stay.
 */
const twoTrains = planWith((timetable) => ({
  ...timetable,
  services: [
    {
      id: 'A',
      name: 'A',
      calls: [
        { station: 'lowmarsh', depart: '08:45' },
        {
          station: 'pennick',
          arrive: '08:51',
          depart: '08:53',
          dwell: { fast: 60, real: 5 },
        },
        { station: 'highmarsh', arrive: '08:59' },
      ],
    },
    {
      id: 'B',
      name: 'B',
      calls: [
        { station: 'highmarsh', depart: '08:02' },
        {
          station: 'pennick',
          arrive: '08:08',
          depart: '08:51',
          dwell: { fast: 60, real: 5 },
        },
        { station: 'lowmarsh', arrive: '08:58' },
      ],
    },
  ],
  workings: [
    { id: 'WA', train: 'T3', services: ['A'] },
    { id: 'WB', train: 'T47', services: ['B'] },
  ],
}));

const MINUTE = 60_000;

/** What B waited for A with late starts so drawn, minutes; and how late A started. */
function waited(
  by: NonNullable<(typeof USUAL_DISTURBANCES)['lateStarts']>['by'],
  seed: number,
): { readonly waited: number; readonly late: number } {
  const disturbances = {
    kind: 'blockbell-disturbances',
    version: 1,
    lateStarts: { share: 100, by },
  } as const;
  const plan = { ...twoTrains, disturbances };
  const world = compileWorld(plan.layout, plan.stock, plan.timetable);
  const drawn = drawDisturbances(world, disturbances, seed).lateDepartures;
  const { waits } = rehearseOnce(plan, seed);
  const b = world.stock.trainByName.get('T47')!;
  const a = world.stock.trainByName.get('T3')!;
  const time = waits
    .filter(({ waiter, train }) => waiter === b && train === a)
    .reduce((sum, each) => sum + each.time, 0);
  return {
    waited: time / MINUTE,
    late:
      ((drawn.find(({ service }) => service === 0)?.by ?? 0) * plan.timetable.clock.ratio) / MINUTE,
  };
}

describe('a train that waits for one with an exponential delay', () => {
  /**
   * Delay exponential with mean m, buffer b: the mean of what is handed on is m·e^(−b/m), handed on in e^(−b/m) of the cases (the same
   * theory as in distributions.test.ts). The buffer that the booked times hold is measured with fixed delays first.
   */
  it('waits as theory says', () => {
    const long = waited({ kind: 'fixed', value: 600 }, 1);
    const longer = waited({ kind: 'fixed', value: 900 }, 1);
    const buffer = long.late - long.waited;
    expect(buffer).toBeGreaterThan(0.5);
    expect(longer.late - longer.waited).toBeCloseTo(buffer, 0);

    const mean = 2;
    const sessions = 60;
    const runs = Array.from({ length: sessions }, (_, seed) =>
      waited({ kind: 'exponential', mean: mean * 60 }, seed + 1),
    );
    for (const { waited: time, late: delay } of runs) {
      // Crews are let go on the second: six seconds of the fast clock.
      expect(Math.abs(time - Math.max(0, delay - buffer))).toBeLessThan(0.25);
    }
    const p = Math.exp(-buffer / mean);
    const expected = mean * p;
    const times = runs.map((run) => run.waited);
    const found = times.reduce((sum, time) => sum + time, 0) / sessions;
    const hit = times.filter((time) => time > 0.1).length / sessions;
    const error = Math.sqrt((2 * mean * expected - expected * expected) / sessions);
    expect(Math.abs(found - expected)).toBeLessThan(3 * error);
    expect(Math.abs(hit - p)).toBeLessThan(3 * Math.sqrt((p * (1 - p)) / sessions));
  });
});
