import { expect, test } from 'vitest';
import { growth } from './soak-growth.mjs';

test('what only rises and falls between collections has not grown', () => {
  expect(growth([9, 5, 7, 9, 5, 7, 9, 5, 7])).toBe(0);
});

test('what is kept shows, whatever is collected', () => {
  expect(growth([5, 8, 6, 9, 7, 10, 8, 11, 9])).toBeCloseTo(8 / 7 - 1);
});

test('the beginning, while caches fill, does not count', () => {
  expect(growth([1, 2, 3, 9, 9, 9, 9, 9, 9])).toBe(0);
});

test('too little to say anything is an error', () => {
  expect(() => growth([1, 2])).toThrow('three samples');
});
