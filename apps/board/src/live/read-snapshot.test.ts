import type { ElementView } from '@blockbell/contract/messages';
import { expect, it } from 'vitest';
import { readSnapshot } from './read-snapshot.js';
import type { ReadSnapshot } from './read-snapshot.js';

const ROWS = 1000;

const element = (number: number): ElementView => ({
  element: number,
  holder: -1,
  position: null,
  proof: 'none',
  possession: null,
  forWork: false,
});
const message = (elements: readonly unknown[]) => ({
  epoch: 'e',
  revision: 1,
  now: 0,
  rows: { elements },
});
const elements = Array.from({ length: ROWS }, (_, index) => element(index));

/** What the checks say until they have said all. */
function checks({ checkOn }: ReadSnapshot): readonly (boolean | null)[] {
  const said: (boolean | null)[] = [];
  do said.push(checkOn());
  while (said.at(-1) === true);
  return said;
}

it('has all rows of a snapshot at once, and checks those of long tables bit by bit', () => {
  const read = readSnapshot(message(elements))!;
  expect(read.snapshot).toEqual(message(elements));
  const said = checks(read);
  expect(said.length).toBeGreaterThan(1);
  expect(said.at(-1)).toBe(false);
});

it('refuses a snapshot whose first rows are not as agreed, or that is none', () => {
  expect(readSnapshot(message([{ ...element(0), holder: 'x' }, ...elements]))).toBeNull();
  for (const other of [null, 'rows', {}, { ...message([]), rows: { elements: 3 } }])
    expect(readSnapshot(other)).toBeNull();
});

it.each([51, 400, ROWS - 1])('finds the row %i that is not as agreed', (at) => {
  const wrong = elements.with(at, { ...element(at), added: true } as ElementView);
  expect(checks(readSnapshot(message(wrong))!).at(-1)).toBeNull();
});
