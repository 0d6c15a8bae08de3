import { describe, expect, it } from 'vitest';
import { Chance } from '../support/chance.js';
import { cameToItsEnd, SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { bookedLength } from '../support/fault-cases.js';
import { exampleRailway, smallRailway, type Railway } from '../support/railways.js';
import { rehearse } from '../support/rehearse.js';

/** Less far and with less work than usual, so that several sessions can be run. */
const QUICK = { horizon: 120_000, effort: 300_000 };
/** Inputs of so many ms at most had not reached the disk. */
const MOST_LOST = 500;

const cases = (): (readonly [string, number, Railway])[] => [
  ...[1, 2, 3, 4].map((seed) => ['passing loop', seed, exampleRailway('passing-loop')] as const),
  ...[41, 42, 43].map((seed) => ['generated', seed, smallRailway(new Chance(seed))] as const),
];

describe('a session that follows plans, its program killed twice and started again', () => {
  let replanned = 0;

  it.each(cases())(
    'runs every service and breaks no rule; no plan outlives the program: %s, seed %i',
    (_, seed, railway) => {
      const chance = new Chance(seed * 31);
      const length = bookedLength(railway);
      const restarts = [1, 2].map(() => ({
        at: chance.below(length),
        lost: chance.between(0, MOST_LOST),
      }));
      const last = Math.max(...restarts.map(({ at }) => at));
      const plans = { before: 0, after: 0 };
      let wasDropped = true;
      const report = rehearse(railway, {
        seed,
        restarts,
        planning: QUICK,
        watch: ({ state }, { kind, at }) => {
          if (kind === 'started-again') wasDropped &&= state.dispatching.plan === null;
          if (kind === 'plan') plans[at < last ? 'before' : 'after']++;
        },
      });
      expect({ broken: report.violations.broken, ...cameToItsEnd(report) }).toEqual({
        broken: [],
        ended: true,
        notRun: [],
      });
      expect(wasDropped).toBe(true);
      expect(plans.before + plans.after).toBeGreaterThan(0);
      replanned += Number(plans.after > 0);
    },
    SESSION_TIMEOUT,
  );

  it('and is planned anew after the last start, unless its work was nearly done', () => {
    expect(replanned).toBeGreaterThan(cases().length / 2);
  });
});
