import { USUAL_CHOICES } from '@blockbell/planning';
import { compileWorld, contentHash, createSession, step, type Input } from '@blockbell/railway';
import {
  InvariantChecker,
  Rehearsal,
  ScriptedDispatcher,
  type RehearsalSetup,
} from '@blockbell/rehearsal';
import { describe, expect, it } from 'vitest';
import { Chance } from '../support/chance.js';
import { expectUnharmed, SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { faultCases } from '../support/fault-cases.js';
import { exampleRailway, smallRailway, type Railway } from '../support/railways.js';
import { rehearse } from '../support/rehearse.js';

/** Less far and with less work than usual, so that many sessions can be run. */
const QUICK = { horizon: 120_000, effort: 300_000 };

const planned = (railway: Railway, seed: number): RehearsalSetup => ({
  ...railway,
  seed,
  planning: QUICK,
});

/** So many physical ms of a planned session: what went in, and what it came to. */
function recorded(setup: RehearsalSetup, until: number) {
  const rehearsal = new Rehearsal(setup);
  const checker = new InvariantChecker(rehearsal);
  const dispatcher = new ScriptedDispatcher(rehearsal);
  const inputs: Input[] = [];
  rehearsal.observe((_, input) => inputs.push(structuredClone(input)));
  while (rehearsal.now < until) {
    rehearsal.runTo(rehearsal.now + 1000);
    dispatcher.look();
  }
  return {
    inputs,
    broken: checker.broken,
    digest: contentHash(rehearsal.state),
    state: rehearsal.state,
  };
}

describe('a session with plans', () => {
  it(
    'on the demo comes to its end without harm',
    () => {
      const report = rehearse({ ...exampleRailway('demo') }, { seed: 1, planning: USUAL_CHOICES });
      expectUnharmed(report);
    },
    2 * SESSION_TIMEOUT,
  );

  it(
    'is the same to the byte each time, and from its inputs alone, without a planner',
    () => {
      const railway = exampleRailway('demo');
      const first = recorded(planned(railway, 3), 250_000);
      const again = recorded(planned(railway, 3), 250_000);
      expect(first.inputs.filter(({ kind }) => kind === 'plan').length).toBeGreaterThan(5);
      expect(again.digest).toBe(first.digest);
      const world = compileWorld(railway.layout, railway.stock, railway.timetable);
      const state = createSession(world);
      for (const input of first.inputs) step(world, state, input);
      expect(contentHash(state)).toBe(first.digest);
    },
    SESSION_TIMEOUT,
  );

  it('takes routes as planned and in the plan’s order', () => {
    const { state, broken } = recorded(planned(exampleRailway('demo'), 2), 300_000);
    const { asPlanned, otherThanPlanned } = state.counts;
    expect(broken).toEqual([]);
    expect(asPlanned).toBeGreaterThan(50);
    expect(asPlanned / (asPlanned + otherThanPlanned)).toBeGreaterThan(0.9);
  });

  it.each([1, 2, 3, 4, 5, 6])(
    'on a generated railway with seed %i is run without harm',
    (seed) => {
      expectUnharmed(rehearse(smallRailway(new Chance(seed)), { seed, planning: QUICK }));
    },
    SESSION_TIMEOUT,
  );

  it.each(
    (['stall', 'stuck-drive', 'dropout'] as const).flatMap((kind) =>
      faultCases(kind).filter((_, at) => at >= 10 && at % 9 === 2),
    ),
  )(
    'comes to its end with a fault: %s',
    (_, { railway, seed, faults }) => {
      const { violations, ended, services } = rehearse(railway, { seed, faults, planning: QUICK });
      expect({ broken: violations.broken, ended, notRun: services.notRun }).toEqual({
        broken: [],
        ended: true,
        notRun: [],
      });
    },
    SESSION_TIMEOUT,
  );
});
