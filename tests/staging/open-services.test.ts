import {
  compileLayout,
  compileStock,
  compileWorld,
  createSession,
  fastNow,
  step,
  validateTimetable,
  type DepartureOrder,
  type Effect,
  type Input,
  type OpenServiceFile,
  type StagingRulesFile,
  type TimetableFile,
} from '@blockbell/railway';
import { runSession, type Restart } from '@blockbell/rehearsal';
import { describe, expect, it } from 'vitest';
import { SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { openFreight, yardRules } from '../support/open-freight.js';

const MINUTE = 60_000;

interface Choices {
  readonly rules?: StagingRulesFile;
  readonly more?: Partial<OpenServiceFile>;
  /** Trains that a person keeps from running, up to a time of day in minutes. */
  readonly held?: { readonly trains: readonly string[]; readonly until: number };
  readonly restarts?: readonly Restart[];
  /** Time of day in minutes after which nobody looks on. */
  readonly until?: number;
}

/** A whole session of the demo in which three services name no train. */
function worked({ rules, more, held, restarts = [], until = Infinity }: Choices) {
  const files = openFreight(more);
  const inputs: Input[] = [];
  const all: Effect[] = [];
  const told: string[] = [];
  const waits = new Set<string>();
  let isHeld = false;
  const session = runSession({ ...files, seed: 2, restarts }, undefined, (rehearsal) => {
    const { world, state } = rehearsal;
    rehearsal.observe(({ state: now }, input, { effects }) => {
      inputs.push(structuredClone(input));
      all.push(...effects);
      for (const it of effects) {
        if (it.kind === 'log') told.push(it.text);
        if (it.kind === 'alarm') told.push(`${it.raised ? 'Alarm' : 'Over'}: ${it.text}`);
      }
      for (const { wait } of now.trains) if (wait !== null) waits.add(wait.kind);
    });
    if (rules !== undefined)
      expect(rehearsal.command('the owner', { kind: 'follow-staging-rules', rules })).toBeNull();
    if (held === undefined) return;
    rehearsal.observe(() => {
      const late = fastNow(state.session.clock, state.now) >= held.until * MINUTE;
      if (isHeld === !late || (!isHeld && late)) return;
      isHeld = !late;
      for (const [train, { file }] of world.stock.trains.entries())
        if (held.trains.includes(file.id))
          rehearsal.command('the owner', { kind: 'hold-train', train, hold: isHeld });
    });
  });
  for (let over = false; ;) {
    const { done, value } = session.next(over);
    if (done === true) {
      expect(value.violations.broken).toEqual([]);
      const by = told.flatMap((text) => / works (Freight \d+); (.*)$/.exec(text)?.slice(1) ?? []);
      const who = told.flatMap((text) => /^(\S+) works Freight/.exec(text)?.[1] ?? []);
      return { ...value, who, why: by.filter((_, at) => at % 2 === 1), told, inputs, all, waits };
    }
    over = value.fast > until * MINUTE;
  }
}

const by = (...order: DepartureOrder[]): StagingRulesFile => yardRules(order);

describe('services that name no train', () => {
  it(
    'are worked by trains that the rules choose when they are to leave, after a restart too; the log says why, and the session replays to the same bytes',
    () => {
      const { layout, stock, timetable } = openFreight();
      const run = worked({
        rules: by({ by: 'rotation' }),
        restarts: [{ at: 400_000, lost: 0 }],
        until: 7 * 60 + 7,
      });
      const { who, why } = run;
      // Each has left the yard once before any leaves it again.
      expect(new Set(who).size).toBe(2);
      expect(why[0]).toBe(
        'of 3 trains there that are free for it, the rules take first the one that has left the least often.',
      );
      expect(why).toHaveLength(2);
      const world = compileWorld(layout, stock, timetable);
      const state = createSession(world);
      const again = run.inputs.flatMap((input) => step(world, state, input).effects);
      expect(JSON.stringify(again) === JSON.stringify(run.all)).toBe(true);
      expect(state.staging.open.map(({ kind }) => kind)).toEqual(['given', 'given', 'awaited']);
    },
    SESSION_TIMEOUT,
  );

  it(
    'are given by chance within a class, the same for the same seed',
    () => {
      const chosen = (seed: number): string =>
        worked({
          rules: by({ by: 'class', of: ['freight'] }, { by: 'random', seed }),
          until: 6 * 60 + 34,
        }).who.join();
      const first = chosen(1);
      expect(chosen(2)).not.toBe(first);
      expect(chosen(1)).toBe(first);
    },
    SESSION_TIMEOUT,
  );

  it(
    'wait until the place they go to asks for a train, where the rules say so',
    () => {
      const { waits } = worked({
        rules: yardRules(
          [],
          [{ when: { is: 'class', of: ['freight'] }, fewerThan: 1, minutes: 10 }],
        ),
        until: 7 * 60,
      });
      expect(waits).toContain('not-asked-for');
    },
    SESSION_TIMEOUT,
  );

  it(
    'tell a person when nobody is free, are worked late by the first that is, and are given up in the end',
    () => {
      const trains = ['T61', 'T62', 'T63', 'T64'];
      const late = worked({ held: { trains, until: 6 * 60 + 50 }, until: 7 * 60 });
      expect(late.told.filter((text) => text.includes('Freight'))).toContain(
        'Alarm: Freight 61 is to leave and has no train. No train that may work it is free in Undercroft Yard.',
      );
      expect(late.told.filter((text) => text.startsWith('Over: Freight 61'))).toHaveLength(1);
      expect(late.who).toEqual(['61']);
      const never = worked({
        held: { trains, until: 24 * 60 },
        more: { waitAtMost: 5 },
        until: 6 * 60 + 39,
      });
      expect(never.who).toEqual([]);
      expect(never.services.notRun.filter(({ train }) => train === null)).toHaveLength(3);
      expect(never.told.filter((text) => text.includes('Freight'))).toContain(
        'Freight 61 is not run: until 06:37 no train could work it. No train that may work it is free in Undercroft Yard.',
      );
    },
    SESSION_TIMEOUT,
  );
});

describe('a timetable with services that name no train', () => {
  const { layout, stock, timetable } = openFreight();
  const [first] = timetable.openServices;
  const faultsOf = (open: Partial<OpenServiceFile>): string[] => {
    const file: TimetableFile = { ...timetable, openServices: [{ ...first!, ...open }] };
    return validateTimetable(file, compileLayout(layout), compileStock(stock)).map(
      ({ place, text }) => `${place}: ${text}`,
    );
  };

  /** Out and back by a track of the terminus that an express leaves with its rear leading. */
  const terminus = first!.calls.map((it) =>
    it.station === 'selquay' ? { ...it, tracks: ['C5'] } : it,
  );

  it('is sound', () => {
    expect(faultsOf({})).toEqual([]);
  });

  it.each<[string, Partial<OpenServiceFile>, RegExp]>([
    ['begins in no yard', { calls: first!.calls.slice(-3) }, /which is no staging yard/],
    [
      'has an id of another service',
      { id: timetable.services[0]!.id },
      /stands among the services as well/,
    ],
    ['waits for no time', { waitAtMost: 0 }, /the longest wait/],
    ['waits for ever', { waitAtMost: 1e6 }, /the longest wait is 1000000 minutes/],
    ['is for no class', { classes: [] }, /no class may work it/],
    ['names a class twice', { classes: ['freight', 'freight'] }, /freight/],
    [
      'runs backwards in time',
      { calls: [...first!.calls].reverse() },
      /does not come after|arrival|departure/,
    ],
    [
      'has no way for any of its trains',
      { calls: first!.calls.map((it, at) => (at === 0 ? it : { ...it, tracks: ['C9'] })) },
      /no track of selquay called C9/,
    ],
    [
      'can be run by none of its trains',
      { classes: ['express'], calls: terminus },
      /only with its rear leading/,
    ],
  ])('is refused where one %s', (_, open, words) => {
    const faults = faultsOf(open);
    expect(
      faults.some((text) => text.startsWith('openServices[0]') && words.test(text)),
      faults.join('\n'),
    ).toBe(true);
  });
});
