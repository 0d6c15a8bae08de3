import {
  compileLayout,
  compileStock,
  compileWorld,
  createSession,
  step,
  validateStagingRules,
  validateTimetable,
  type Effect,
  type Fallback,
  type Input,
  type StationId,
} from '@blockbell/railway';
import { runSession, type Rehearsal } from '@blockbell/rehearsal';
import { bookedYard, tryRules } from '@blockbell/staging';
import { describe, expect, it } from 'vitest';
import { SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { nearRules, twoYards } from '../support/two-yards.js';

const overflow: Fallback = { do: 'overflow', to: 'far' as StationId };

/** Where train 3 came to stand, what was said of it, and the alarms of the yard; in a whole session. */
function worked(
  nothingFits: readonly Fallback[],
  stays = false,
  restarts: readonly { at: number; lost: number }[] = [],
) {
  const files = twoYards(stays);
  const told: string[] = [];
  const inputs: Input[] = [];
  const all: Effect[] = [];
  const alarms = new Set<string>();
  const stood = new Set<string>();
  let elsewhere: Rehearsal['state']['added']['elsewhere'] = [];
  const session = runSession({ ...files, seed: 4, restarts }, undefined, (rehearsal) => {
    const { world } = rehearsal;
    const three = world.stock.trains.findIndex(({ file }) => file.id === 'T3');
    rehearsal.observe(({ state }, input, { effects }) => {
      inputs.push(structuredClone(input));
      all.push(...effects);
      for (const it of effects) if (it.kind === 'log') told.push(it.text);
      for (const { key, text } of state.alarms) if (key === `yard:${three}`) alarms.add(text);
      const { activity, path } = state.trains[three]!;
      if (activity.kind === 'standing') stood.add(world.layout.elements[path.at(-1)!.element]!.id);
      ({ elsewhere } = state.added);
    });
    expect(
      rehearsal.command('the owner', {
        kind: 'follow-staging-rules',
        rules: nearRules({ nothingFits }),
      }),
    ).toBeNull();
  });
  for (let over = false; ;) {
    const { done, value } = session.next(over);
    if (done === true) {
      expect(value.violations.broken).toEqual([]);
      const { services } = value;
      return { told, alarms: [...alarms], stood: [...stood], elsewhere, services, inputs, all };
    }
    over = value.fast > 9.5 * 3_600_000;
  }
}

describe('a train for which its yard has no track', () => {
  it.each([false, true])('is possible as it is tried here (%s)', (stays) => {
    const { layout, stock, timetable } = twoYards(stays);
    expect(validateTimetable(timetable, compileLayout(layout), compileStock(stock))).toEqual([]);
    expect(
      validateStagingRules(nearRules({ nothingFits: [overflow] }), compileLayout(layout)),
    ).toEqual([]);
  });

  it(
    'goes to the yard that the rules name, says why, and begins its next service there',
    () => {
      const { told, stood, elsewhere, services, alarms } = worked([overflow]);
      expect(told).toContain(
        '3 goes to Far instead of Near; no rule found a track: it goes to Far instead, if that has a track for it.',
      );
      expect(told).toContain('3 arrived at Far.');
      expect(stood).toEqual(['W1', 'E1']);
      expect(elsewhere.map(({ call }) => call)).toEqual([1, 0]);
      expect(alarms).toEqual([]);
      expect(services.notRun).toEqual([]);
    },
    SESSION_TIMEOUT,
  );

  it(
    'waits first, where that is to be done first',
    () => {
      const { told } = worked([{ do: 'hold', minutes: 12 }, overflow]);
      expect(told).toContain('3 arrived at Far.');
    },
    SESSION_TIMEOUT,
  );

  it(
    'is not sent where the trains could then not all finish: a person is asked, and told why',
    () => {
      const { alarms, elsewhere, stood } = worked([overflow], true);
      expect(elsewhere).toEqual([]);
      expect(stood).not.toContain('E1');
      expect(alarms).toEqual([
        'The rules of Near find no track for 3; it waits outside. With 3 at Far, the trains could no longer all finish. Choose another place, or wait until others have moved on.',
      ]);
    },
    SESSION_TIMEOUT,
  );

  it(
    'is where it was sent after a restart, and the session replays to the same bytes',
    () => {
      const { layout, stock, timetable } = twoYards();
      const run = worked([overflow], false, [{ at: 150_000, lost: 0 }]);
      expect(run.told).toContain('3 arrived at Far.');
      expect(run.services.notRun).toEqual([]);
      const world = compileWorld(layout, stock, timetable);
      const state = createSession(world);
      const again = run.inputs.flatMap((input) => step(world, state, input).effects);
      expect(JSON.stringify(again)).toBe(JSON.stringify(run.all));
      expect(state.added.elsewhere).toEqual(run.elsewhere);
    },
    SESSION_TIMEOUT,
  );

  it('is sent in the trial on the timetable as well', () => {
    const { layout, stock, timetable } = twoYards();
    const world = compileWorld(layout, stock, timetable);
    const yard = bookedYard(
      world,
      layout.stations.findIndex(({ id }) => id === 'near'),
    );
    const [rules] = nearRules({ nothingFits: [overflow] }).yards;
    const trial = tryRules(world, yard, rules!);
    expect(trial.stays.map(({ sent }) => sent?.to ?? null).filter((it) => it !== null)).toEqual([
      'far',
    ]);
  });
});

describe('an overflow that can’t be', () => {
  const layout = compileLayout(twoYards().layout);
  it.each([
    [[{ do: 'overflow', to: 'near' }], 'a yard can’t be its own overflow'],
    [[{ do: 'overflow', to: 'lowmarsh' }], 'lowmarsh is no staging yard'],
    [[{ do: 'overflow', to: 'nowhere' }], 'there is no station nowhere'],
    [[overflow, overflow], 'far is named before'],
  ] as [Fallback[], string][])('is refused with its place: %j', (nothingFits, text) => {
    const faults = validateStagingRules(nearRules({ nothingFits }), layout);
    expect(faults.map((fault) => fault.text)).toEqual([text]);
    expect(faults[0]!.place).toMatch(/^yards\[0\] near\.nothingFits\[\d\]\.to$/);
  });
});
