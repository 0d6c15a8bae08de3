import { expect, it } from 'vitest';
import { commandSchema } from '../messages/commands.js';
import { DEEPEST, nestsWithin } from './nesting.js';
import { readFile } from './read-file.js';

/** A value so many lists deep. */
const lists = (levels: number): unknown => {
  let value: unknown = 1;
  for (let level = 0; level < levels; level++) value = [value];
  return value;
};

it('counts levels of lists and objects', () => {
  expect(nestsWithin(1, 0)).toBe(true);
  expect(nestsWithin({ a: [{ b: null }] }, 3)).toBe(true);
  expect(nestsWithin({ a: [{ b: null }] }, 2)).toBe(false);
  expect(nestsWithin(lists(DEEPEST), DEEPEST)).toBe(true);
});

it('conditions within conditions without end are refused, not run into the ground', () => {
  const LEVELS = 1500;
  const when = `${'{"is":"not","of":'.repeat(LEVELS)}{"is":"staying"}${'}'.repeat(LEVELS)}`;
  const text = `{"kind":"blockbell-staging-rules","yards":[{"arrivals":[{"when":${when}}]}]}`;
  expect(readFile(text)).toMatchObject({
    ok: false,
    faults: [{ place: 'file', text: `it nests more than ${DEEPEST} levels deep` }],
  });
  const rules: unknown = JSON.parse(text);
  expect(commandSchema.safeParse({ kind: 'follow-staging-rules', rules }).success).toBe(false);
});
