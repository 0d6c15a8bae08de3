import { expect, test } from 'vitest';
import type { ReturnView } from '@blockbell/contract/messages';
import { planText } from './return-words.js';

type Plan = NonNullable<ReturnView['plan']>;
const move = (stage: Plan['moves'][number]['stage']): Plan['moves'][number] => ({
  train: '101',
  text: 'runs to Yard 1',
  isHome: true,
  time: 30_000,
  stage,
  why: null,
});
const plan = (change: Partial<Plan>): Plan => ({
  number: 1,
  state: 'planned',
  moves: [],
  left: [],
  there: [],
  time: 0,
  isBest: true,
  ...change,
});
const LEFT: Plan['left'] = [{ train: '9', code: 'no-way', why: 'No way.', mend: 'Put it back.' }];

test('a plan says how many moves there are, how long they take and what is left to a person', () => {
  const moves = [move('to-come'), move('to-come')];
  expect(planText(plan({ moves, time: 65_000, left: LEFT }))).toBe(
    '2 moves, about 1 min 05 s in all. 1 train is left to a person.',
  );
  expect(planText(plan({}))).toBe('Every train stands where the session began.');
});

test('what goes on or is over says how many moves were made, and what to do next', () => {
  const moves = [move('made'), move('failed')];
  expect(planText(plan({ moves, state: 'running' }))).toBe('1 of 2 moves made.');
  expect(planText(plan({ moves, state: 'ended' }))).toMatch(/^Over: 1 of 2 moves made\./);
  expect(planText(plan({ moves: [move('made')], state: 'ended' }))).toBe('All done: 1 move made.');
});
