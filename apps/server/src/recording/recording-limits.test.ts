import { expect, test } from 'vitest';
import { recordingsToDrop } from './recording-limits.js';

const MB = 1_000_000;
const sizes = [1, 2, 3, 4].map((session) => ({ session, bytes: session * MB }));

test('within the limits everything stays', () => {
  expect(recordingsToDrop(sizes, { sessions: 4, megabytes: 10 }, 4)).toEqual([]);
});

test('the oldest go until so many are left', () => {
  expect(recordingsToDrop(sizes, { sessions: 2, megabytes: 10 }, 4)).toEqual([1, 2]);
});

test('the oldest go until what is left is small enough', () => {
  expect(recordingsToDrop(sizes, { sessions: 9, megabytes: 7 }, 4)).toEqual([1, 2]);
});

test('the one that is being recorded stays, old and large as it may be', () => {
  expect(recordingsToDrop(sizes, { sessions: 1, megabytes: 1 }, 1)).toEqual([2, 3, 4]);
  expect(
    recordingsToDrop([{ session: 5, bytes: 99 * MB }], { sessions: 1, megabytes: 1 }, 5),
  ).toEqual([]);
});
