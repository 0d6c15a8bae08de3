import { expect, it } from 'vitest';
import { findStuck } from './find-stuck.js';

it('finds the first state from which no end can be reached', () => {
  // 0 → 1 → 2, an end; 1 → 3 ⇄ 4.
  expect(findStuck([[1], [2, 3], [], [4], [3]], [2])).toBe(3);
});

it('finds none where every ring has a way out, and all where there is no end', () => {
  expect(findStuck([[1], [0, 2], []], [2])).toBeNull();
  expect(findStuck([[1], [0]], [])).toBe(0);
});
