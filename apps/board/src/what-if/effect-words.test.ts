import type { WhatIfView } from '@blockbell/contract/messages';
import { expect, test } from 'vitest';
import { changeWords, laterWords, standingWords, summaryWords } from './effect-words.js';

const MINUTE = 60_000;
const TEN = 600 * MINUTE;
const row = { train: 0, service: 0, call: 1, station: 0, cancelled: false, added: false };
const effect: WhatIfView = {
  ok: true,
  from: TEN,
  until: TEN + 30 * MINUTE,
  refusal: null,
  changes: [
    { ...row, before: TEN + 5 * MINUTE, after: TEN + 8 * MINUTE },
    { ...row, call: 2, before: TEN + 12 * MINUTE, after: null },
    { ...row, call: 3, before: TEN + 20 * MINUTE, after: TEN + 19.4 * MINUTE },
    { ...row, call: 4, before: TEN + 25 * MINUTE, after: null, cancelled: true },
    { ...row, service: 7, before: null, after: TEN + 26 * MINUTE, added: true },
  ],
  compared: 9,
  lateness: {
    before: { total: 2 * MINUTE, weighted: 0 },
    after: { total: 21 * MINUTE, weighted: 0 },
  },
  standing: [
    { train: 0, why: 'T1 is held', anyway: false },
    { train: 1, why: 'T2 waits', anyway: true },
  ],
};

test('a service that comes after what was looked at is told of, so that nobody reads “no change” as “never run”', () => {
  const none = { ...effect, changes: effect.changes.filter(({ added }) => !added) };
  expect(laterWords('add-service', none)).toBe(
    'The added service arrives nowhere by 10:30; what comes later is not looked at.',
  );
  expect(laterWords('add-service', effect)).toBeNull();
  expect(laterWords('hold-train', none)).toBeNull();
});

test('an arrival that changes is told with both times and the difference in minutes', () => {
  expect(changeWords(effect, null).map((it) => [it.without, it.with, it.difference])).toEqual([
    ['10:05', '10:08', '3 min later'],
    ['10:12', 'not by 10:30', ''],
    ['10:20', '10:19', '1 min earlier'],
    ['10:25', 'cancelled', ''],
    ['not run', '10:26', ''],
  ]);
});

test('the whole comes to a number of arrivals and minutes', () => {
  expect(summaryWords(effect)).toBe(
    'Of 9 arrivals until 10:30, 5 at another time. All trains together: 2 min late without it, 21 min with it.',
  );
  expect(summaryWords({ ...effect, changes: [], compared: 1 })).toContain(
    'Of 1 arrival until 10:30, none comes at another time.',
  );
});

test('who stands because of it is told why, who would anyway by name', () => {
  expect(standingWords(effect, null)).toEqual({
    lines: ['At 10:30: T1 is held.'],
    anyway: 'With it or without, 10:30 finds standing: #1.',
  });
});
