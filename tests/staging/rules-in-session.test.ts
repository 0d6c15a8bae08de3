import type { StagingRulesFile, YardRulesFile } from '@blockbell/railway';
import { runSession, type Rehearsal } from '@blockbell/rehearsal';
import { describe, expect, it } from 'vitest';
import { SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { exampleRailway } from '../support/railways.js';

const demo = exampleRailway('demo');
/** The first trains have come back to the yard, and others gone out again. */
const UNTIL = 7.2 * 3_600_000;

const rulesOf = (rules: Partial<YardRulesFile>): StagingRulesFile => ({
  kind: 'blockbell-staging-rules',
  version: 1,
  id: 'drawn',
  name: 'Drawn rules',
  layout: demo.layout.id,
  yards: [
    {
      yard: 'undercroft' as YardRulesFile['yard'],
      arrivals: [],
      nothingFits: [],
      departures: { order: [], requests: [] },
      moveUp: 'on-arrival',
      ...rules,
    },
  ],
});

/** Begins a session of the demo by rules, and goes on until some time of its clock. */
function rehearse(rules: StagingRulesFile, look?: (rehearsal: Rehearsal) => void) {
  const chosen: string[] = [];
  const waits = new Map<string, string | null>();
  /** Trains that are on their way to a track, by what was said of it. */
  const onTheWay = new Map<string, string>();
  const begin = (rehearsal: Rehearsal): void => {
    const { stock } = rehearsal.world;
    expect(rehearsal.command('the owner', { kind: 'follow-staging-rules', rules })).toBeNull();
    rehearsal.observe(({ state }, _, { effects }) => {
      for (const effect of effects)
        if (effect.kind === 'log' && effect.text.includes(' goes to track ')) {
          chosen.push(effect.text);
          const [label] = effect.text.split(' ');
          expect(onTheWay.get(label!)).not.toBe(effect.text);
          onTheWay.set(label!, effect.text);
        } else if (effect.kind === 'log' && effect.text.includes(' arrived at '))
          onTheWay.delete(effect.text.split(' ')[0]!);
      state.trains.forEach(({ wait }, train) => {
        if (wait?.kind === 'yard-full' || wait?.kind === 'not-asked-for')
          waits.set(stock.trains[train]!.file.label, wait.kind);
      });
      look?.(rehearsal);
    });
  };
  const session = runSession({ ...demo, seed: 1 }, undefined, begin);
  let answer: boolean | undefined;
  for (;;) {
    const { done, value } = session.next(answer);
    if (done === true) {
      expect(value.violations.broken).toEqual([]);
      return { report: value, chosen, waits };
    }
    answer = value.fast > UNTIL;
  }
}

describe('a session whose yard is worked by rules', () => {
  const rules = rulesOf({
    arrivals: [
      {
        when: { is: 'class', of: ['freight'] },
        only: { is: 'track', of: ['Y8', 'Y7', 'Y6', 'Y5'] },
        order: [{ by: 'random', seed: 5 }],
      },
      { only: { is: 'burying-nobody' }, order: [{ by: 'rotation' }] },
    ],
    nothingFits: [
      { do: 'hold', minutes: 5 },
      { do: 'take', order: [] },
    ],
    departures: { order: [{ by: 'longest-waiting' }], requests: [] },
  });

  it(
    'puts each train where they say, with the reason, and gives the same bytes again',
    () => {
      const { report, chosen } = rehearse(rules);
      expect(chosen.length).toBeGreaterThan(1);
      for (const text of chosen) expect(text).toMatch(/Undercroft Yard; rule [12]: /);
      expect(chosen.some((text) => /^64 goes to track [5-8] /.test(text))).toBe(true);
      expect(rehearse(rules).report.digest).toBe(report.digest);
    },
    SESSION_TIMEOUT,
  );

  it(
    'keeps a train outside for which they find no track, and asks; without rules it goes on',
    () => {
      let asked: string | null = null;
      const { waits, chosen, report } = rehearse(rulesOf({}), (rehearsal) => {
        const alarm = rehearsal.state.alarms.find(({ key }) => key.startsWith('yard:'));
        if (alarm === undefined || asked !== null) return;
        asked = alarm.text;
        expect(rehearsal.command('the owner', { kind: 'follow-staging-rules', rules: null })).toBe(
          null,
        );
        expect(alarm.clearedAt).not.toBeNull();
      });
      expect(asked).toMatch(
        /^The rules of Undercroft Yard find no track for \d+; it waits outside/,
      );
      expect([...waits.values()]).toEqual(['yard-full']);
      expect(chosen).toEqual([]);
      expect(report.services.run).toBeGreaterThan(0);
    },
    SESSION_TIMEOUT,
  );

  it(
    'lets a train out of it only when the place ahead asks for one, or the time is over',
    () => {
      const requests = [{ fewerThan: 1, minutes: 2 }];
      const { waits, report } = rehearse(
        rulesOf({ ...rules.yards[0], departures: { order: [], requests } }),
      );
      expect([...waits.values()]).toContain('not-asked-for');
      expect(report.services.run).toBeGreaterThan(0);
    },
    SESSION_TIMEOUT,
  );

  it(
    'counts no more while a train has waited too long: who waits for a track is asked past them',
    () => {
      const outside = new Set<number>();
      const past: number[] = [];
      // Nobody is asked meanwhile, and so nobody names a track.
      const rules = rulesOf({ nothingFits: [{ do: 'hold', minutes: 600 }] });
      rehearse(rules, ({ state }) => {
        const { starving } = state.dispatching;
        state.trains.forEach(({ wait }, train) => {
          if (wait?.kind === 'yard-full') outside.add(train);
          else if (outside.delete(train)) past.push(starving);
        });
      });
      expect(past.length).toBeGreaterThan(0);
      for (const starving of past) expect(starving).toBeGreaterThanOrEqual(0);
    },
    SESSION_TIMEOUT,
  );
});
