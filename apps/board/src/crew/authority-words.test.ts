import { expect, it } from 'vitest';
import { authorityWords } from './authority-words.js';

const item = (element: number, start: number, end: number) => ({
  element,
  from: 'a',
  to: 'b',
  start,
  end,
});
const row = { path: [item(4, 0, 1000), item(7, 1000, 2600)], mark: 2400 };
const nameOf = (element: number): string => `M${element}`;

it('tells how far and to where', () => {
  expect(authorityWords(row, 900, nameOf)).toBe('1.50 m, to M7.');
  expect(authorityWords({ ...row, mark: 1000 }, 400, nameOf)).toBe('0.60 m, to M4.');
});

it('tells that there is no way on, also where the head was reckoned a little past it', () => {
  const none = 'No further: the way ahead is not set for it yet.';
  expect(authorityWords(row, 2390, nameOf)).toBe(none);
  expect(authorityWords(row, 2440, nameOf)).toBe(none);
});

it('names no place where the way ends outside what is held', () => {
  expect(authorityWords({ path: [], mark: 500 }, 0, nameOf)).toBe('0.50 m.');
});
