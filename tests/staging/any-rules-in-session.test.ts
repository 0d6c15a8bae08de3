import { readStagingRules } from '@blockbell/contract';
import { compileWorld } from '@blockbell/railway';
import { runSession } from '@blockbell/rehearsal';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { anyYardRules } from '../support/any-rules.js';
import { SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { holdingRules, holdingYard, openHoldingYard } from '../support/holding-yard.js';

const { layout, stock, timetable } = holdingYard;
const world = compileWorld(layout, stock, timetable);
const yard = layout.stations.find(({ kind }) => kind === 'staging-yard')!;
const anyRules = anyYardRules({
  yards: [yard.id],
  tracks: yard.tracks.map(({ id }) => id),
  trains: stock.trains.map(({ id }) => id),
});

/** By then all is booked to have happened; fast-clock ms. */
const UNTIL = 8.95 * 3_600_000;

it(
  'whatever rules are followed, a session keeps its invariants, and says why a train waits',
  () => {
    let ran = 0;
    const given = new Set<string>();
    let allRun = 0;
    fc.assert(
      fc.property(anyRules, fc.boolean(), (rules, isOpen) => {
        const file = holdingRules(rules);
        if (!readStagingRules(JSON.stringify(file), world.layout, world.stock).ok) return;
        ran++;
        const session = runSession(
          { ...(isOpen ? openHoldingYard : holdingYard), seed: 3 },
          undefined,
          (rehearsal) => {
            expect(
              rehearsal.command('the owner', { kind: 'follow-staging-rules', rules: file }),
            ).toBeNull();
            rehearsal.observe(({ state }) => {
              for (const run of state.staging.open)
                if (run.kind === 'given') given.add(`${run.service} ${run.train}`);
              state.trains.forEach(({ wait }, train) => {
                // Who is told to wait for a person has an alarm that says so.
                if (wait?.kind === 'yard-full' && wait.until === null)
                  expect(
                    state.alarms.some(
                      ({ key, clearedAt }) => key === `yard:${train}` && clearedAt === null,
                    ),
                  ).toBe(true);
              });
            });
          },
        );
        let over = false;
        for (;;) {
          const { done, value } = session.next(over);
          if (done === true) {
            expect(value.violations.broken).toEqual([]);
            if (isOpen && value.services.notRun.length === 0) allRun++;
            return;
          }
          over = value.fast > UNTIL;
        }
      }),
      { numRuns: 90, seed: 11 },
    );
    expect(ran).toBeGreaterThan(12);
    // Services that name no train were worked, not all by the same one.
    expect(given.size).toBeGreaterThan(1);
    expect(allRun).toBeGreaterThan(0);
  },
  SESSION_TIMEOUT,
);
