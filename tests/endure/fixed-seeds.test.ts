import { endureSession, summarise, type SessionOutcome } from '@blockbell/rehearsal';
import { beforeAll, expect, it } from 'vitest';
import { exampleRailway } from '../support/railways.js';

/** Always the same sessions; as many as one processor runs in half a minute at most. */
const SEED = 1;
const SESSIONS = 25;
const TIMEOUT = 600_000;

let outcomes: readonly SessionOutcome[];

beforeAll(() => {
  const demo = exampleRailway('demo');
  outcomes = Array.from({ length: SESSIONS }, (_, number) =>
    endureSession({ seed: SEED, number, level: 'mixed', silent: null }, demo),
  );
}, TIMEOUT);

it('no session breaks an invariant, throws or keeps up what does not follow from its state', () => {
  const failed = outcomes.flatMap(({ request, failure }) =>
    failure === null ? [] : [{ session: request.number, ...failure }],
  );
  expect(failed).toEqual([]);
});

it('every service runs without faults, and 95 of 100 at ordinary rates', () => {
  const shares = Object.fromEntries(
    summarise(outcomes).byLevel.map(({ level, totals }) => [level, totals.run / totals.planned]),
  );
  expect(shares['none']).toBe(1);
  expect(shares['ordinary']).toBeGreaterThanOrEqual(0.95);
});

it('no train is certain and wrong where detection tells the truth', () => {
  const { all, byLevel } = summarise(outcomes);
  expect(all.identity.wrong['none'] ?? 0).toBe(0);
  const wrong = Object.fromEntries(
    byLevel.map(({ level, totals }) => [level, totals.identity.wrong]),
  );
  expect(Object.keys(wrong)).toEqual(expect.arrayContaining(['none', 'ordinary']));
  expect(Object.keys({ ...wrong['none'], ...wrong['ordinary'] })).toEqual([]);
});

it('is no walk in the park: faults of many kinds happen, on the demo and on railways nobody drew', () => {
  const { all, byLevel } = summarise(outcomes);
  expect(byLevel.map(({ level }) => level)).toEqual(['none', 'ordinary', 'hard', 'brutal']);
  expect(all.demo).toBe(SESSIONS / 5);
  expect(Object.keys(all.faults).length).toBeGreaterThan(10);
  expect(all.compared).toBeGreaterThan(SESSIONS * 10);
  for (const { services, railway, isDemo } of outcomes) {
    expect(services.planned, railway).toBeGreaterThanOrEqual(isDemo ? 60 : 20);
  }
});
