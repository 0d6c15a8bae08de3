import { readStagingRules } from '@blockbell/contract';
import { compileWorld, type StationId } from '@blockbell/railway';
import { runSession } from '@blockbell/rehearsal';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { anyYardRules } from '../support/any-rules.js';
import { SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { nearRules, twoYards } from '../support/two-yards.js';

const railway = twoYards();
const { layout, stock, timetable } = railway;
const world = compileWorld(layout, stock, timetable);
const anyRules = anyYardRules({
  yards: ['near'],
  tracks: ['P1'],
  trains: stock.trains.map(({ id }) => id),
  others: ['far'],
});

/** What is done when nothing fits begins or ends with the overflow, and has others beside it. */
const withOverflow = fc.tuple(anyRules, fc.boolean()).map(([rules, isFirst]) => {
  const overflow = { do: 'overflow' as const, to: 'far' as StationId };
  const others = rules.nothingFits.filter((it) => it.do !== 'overflow');
  return {
    ...rules,
    nothingFits: isFirst
      ? [overflow, ...others]
      : [...others.filter((it) => it.do !== 'ask'), overflow],
  };
});

/** By then all is booked to have happened; fast-clock ms. */
const UNTIL = 9.2 * 3_600_000;

it(
  'whatever rules with an overflow are followed, a session keeps its invariants and nobody is sent on twice',
  () => {
    let sent = 0;
    fc.assert(
      fc.property(withOverflow, fc.boolean(), (rules, stays) => {
        const file = nearRules(rules);
        if (!readStagingRules(JSON.stringify(file), world.layout, world.stock).ok) return;
        const session = runSession({ ...twoYards(stays), seed: 3 }, undefined, (rehearsal) => {
          expect(
            rehearsal.command('the owner', { kind: 'follow-staging-rules', rules: file }),
          ).toBeNull();
          rehearsal.observe(({ state }) => {
            const { elsewhere } = state.added;
            const calls = elsewhere.map(({ service, call }) => `${service} ${call}`);
            expect(new Set(calls).size).toBe(calls.length);
            sent = Math.max(sent, elsewhere.length);
          });
        });
        for (let over = false; ;) {
          const { done, value } = session.next(over);
          if (done === true) {
            expect(value.violations.broken).toEqual([]);
            return;
          }
          over = value.fast > UNTIL;
        }
      }),
      { numRuns: 40, seed: 7 },
    );
    expect(sent).toBeGreaterThan(0);
  },
  SESSION_TIMEOUT,
);
