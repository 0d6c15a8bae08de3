import { compileWorld, validateLayout, type YardRulesFile } from '@blockbell/railway';
import { runSession, type Rehearsal } from '@blockbell/rehearsal';
import { bookedYard, tryRules } from '@blockbell/staging';
import { describe, expect, it } from 'vitest';
import { SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { holdingRules, holdingYard } from '../support/holding-yard.js';

const { layout, stock, timetable } = holdingYard;

/** Where train 3 stood at its call in the yard and what was said of it, in a whole session. */
function worked(rules: Partial<YardRulesFile>, look?: (rehearsal: Rehearsal) => void) {
  const stood = new Set<string>();
  const told: string[] = [];
  let alarms: (readonly [string, 'cleared' | 'open'])[] = [];
  const begin = (rehearsal: Rehearsal): void => {
    const { world } = rehearsal;
    const three = world.stock.trains.findIndex(({ file }) => file.id === 'T3');
    expect(
      rehearsal.command('the owner', { kind: 'follow-staging-rules', rules: holdingRules(rules) }),
    ).toBeNull();
    rehearsal.observe(({ state }, _, { effects }) => {
      alarms = state.alarms
        .filter(({ key }) => key.startsWith('yard:'))
        .map(({ text, clearedAt }) => [text, clearedAt === null ? 'open' : 'cleared']);
      for (const it of effects) if (it.kind === 'log') told.push(it.text);
      const { arrivedAt, activity, path, calls } = state.trains[three]!;
      const isThere = calls.some(({ arrived, departed }) => arrived !== null && departed === null);
      if (arrivedAt !== null && isThere && activity.kind === 'standing')
        stood.add(world.layout.elements[path.at(-1)!.element]!.id);
      look?.(rehearsal);
    });
  };
  const session = runSession({ ...holdingYard, seed: 2 }, undefined, begin);
  for (;;) {
    const { done, value } = session.next(false);
    if (done !== true) continue;
    expect(value.violations.broken).toEqual([]);
    return { stood: [...stood], told, alarms, run: value.services.run };
  }
}

describe('a train that stands behind another in a track of two slots', () => {
  it('is possible as it is tried here', () => {
    expect(validateLayout(layout)).toEqual([]);
  });

  it(
    'goes on to the slot ahead when that falls free, at its call, and leaves from there when booked',
    () => {
      const { stood, told, run } = worked({ moveUp: 'whenever-free' });
      expect(stood.slice(0, 2)).toEqual(['L3', 'L4']);
      expect(told).toContain('3 moves up in its track.');
      expect(told.filter((it) => it === '3 arrived at Holding.')).toHaveLength(1);
      expect(told.filter((it) => it === '3 leaves Holding.')).toHaveLength(1);
      expect(run).toBe(4);
    },
    SESSION_TIMEOUT,
  );

  it(
    'stays where it came to rest when trains move up on arrival alone',
    () => {
      const { stood, told, run } = worked({ moveUp: 'on-arrival' });
      expect(stood[0]).toBe('L3');
      expect(stood).not.toContain('L4');
      expect(told).not.toContain('3 moves up in its track.');
      expect(run).toBe(4);
    },
    SESSION_TIMEOUT,
  );

  it(
    'waits outside when trains stop in the first slot, and the rules find no room behind',
    () => {
      const { stood, told, alarms } = worked({ moveUp: 'never' });
      const came = told.indexOf('3 arrived at Holding.');
      expect(stood[0]).toBe('L3');
      expect(came).toBeGreaterThan(told.indexOf('1047 leaves Holding.'));
      expect(alarms).toEqual([
        ['The rules of Holding find no track for 3; it waits outside.', 'cleared'],
      ]);
    },
    SESSION_TIMEOUT,
  );
});

it(
  'stays where a return to start has it once all work is done',
  () => {
    const home = timetable.storedPlaces;
    const both = {
      ...timetable,
      services: timetable.services.filter(({ id }) => id.startsWith('east-')),
      workings: timetable.workings.map((working) => ({
        ...working,
        services: working.services.filter((id) => id.startsWith('east-')),
      })),
    };
    const rules = holdingRules({ moveUp: 'whenever-free' });
    const setup = { ...holdingYard, timetable: both, seed: 2, returns: true };
    const session = runSession(setup, undefined, (rehearsal) => {
      const command = { kind: 'follow-staging-rules', rules } as const;
      expect(rehearsal.command('the owner', command)).toBeNull();
    });
    for (;;) {
      const { done, value } = session.next(false);
      if (done !== true) continue;
      expect(value.violations.broken).toEqual([]);
      expect(value.returns.map(({ plan }) => plan.moves.length)).toEqual([2]);
      expect(value.nextLineUp).toEqual(home);
      return;
    }
  },
  SESSION_TIMEOUT,
);

it(
  'nobody is asked any more for a train that a person sends into the yard by hand',
  () => {
    let sent: number | null = null;
    worked({ arrivals: [] }, (rehearsal) => {
      const { world, state } = rehearsal;
      const train = state.trains.findIndex(({ wait }) => wait?.kind === 'yard-full');
      if (sent !== null || train < 0) return;
      sent = state.now;
      const block = world.layout.elements.findIndex(({ id }) => id === 'L3');
      const asked = state.alarms.find(({ key }) => key === `yard:${train}`)!;
      expect(asked.clearedAt).toBeNull();
      expect(rehearsal.command('the owner', { kind: 'set-route', train, block })).toBeNull();
      expect(state.staging.waits[train]).toBeNull();
      expect(asked.clearedAt).not.toBeNull();
    });
    expect(sent).not.toBeNull();
  },
  SESSION_TIMEOUT,
);

it('the trial on the timetable moves trains up in the same way', () => {
  const world = compileWorld(layout, stock, timetable);
  const station = layout.stations.findIndex(({ kind }) => kind === 'staging-yard');
  const yard = bookedYard(world, station);
  const tried = (moveUp: YardRulesFile['moveUp']) =>
    tryRules(world, yard, holdingRules({ moveUp }).yards[0]!);
  expect(tried('whenever-free').most).toEqual([2]);
  expect(tried('never').most).toEqual([1]);
});
