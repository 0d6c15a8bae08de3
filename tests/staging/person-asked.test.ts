import { runSession } from '@blockbell/rehearsal';
import { expect, it } from 'vitest';
import { SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { nearRules, twoYards } from '../support/two-yards.js';

it(
  'in a rehearsal a person names a track with room for a train that waits outside for one, and the session ends',
  () => {
    const railway = twoYards();
    const told: string[] = [];
    const session = runSession({ ...railway, seed: 1 }, undefined, (rehearsal) => {
      // Its one track is taken until 08:45; no rule ever finds it.
      const rules = nearRules({ arrivals: [], nothingFits: [{ do: 'ask' }] });
      const command = { kind: 'follow-staging-rules', rules } as const;
      expect(rehearsal.command('the owner', command)).toBeNull();
      rehearsal.observe((_, __, { effects }) => {
        for (const effect of effects) if (effect.kind === 'log') told.push(effect.text);
      });
    });
    for (;;) {
      const { done, value } = session.next();
      if (done !== true) continue;
      expect(value.violations.broken).toEqual([]);
      expect(value.ended).toBe(true);
      expect(value.services).toMatchObject({ run: railway.timetable.services.length });
      break;
    }
    const named = told.findIndex((it) =>
      it.startsWith('scripted dispatcher: wants 3 in P1 at Near'),
    );
    expect(named).toBeGreaterThan(told.indexOf('1047 leaves Near.'));
    expect(told.indexOf('3 arrived at Near.')).toBeGreaterThan(named);
  },
  SESSION_TIMEOUT,
);
