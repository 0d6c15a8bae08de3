import { compileLayout } from '@blockbell/railway';
import type { LayoutFile } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { elementOf, smallLayout } from '../testing/small-layout.js';
import { trainRow } from '../testing/train-row.js';
import { blocksAhead, headingOn, holdsAhead } from './held-way.js';

const layout = smallLayout();
const item = (id: string, from: string, to: string, start: number, end: number) => ({
  element: elementOf(layout, id),
  from,
  to,
  start,
  end,
});
const inB = item('B', 'b', 'a', 0, 1000);
const overT = item('T', 'diverging', 'stem', 1000, 1200);
const inW = item('W', 'b', 'a', 1200, 3200);

describe('what a train holds ahead', () => {
  it('is every element after the one under its head', () => {
    const row = trainRow({ path: [inB, overT, inW] });
    expect(holdsAhead(row, 900)).toBe(true);
    expect(holdsAhead(row, 1300)).toBe(false);
  });

  it('is nothing in its own block, or without a place', () => {
    expect(holdsAhead(trainRow({ path: [inB] }), 400)).toBe(false);
    expect(holdsAhead(trainRow(), 0)).toBe(false);
  });
});

describe('the blocks a way can be set to', () => {
  const named = (path: (typeof inB)[]) =>
    blocksAhead(layout, headingOn(layout, path.at(-1))).map((block) => layout.elements[block]?.id);

  it('come nearest first, and none of them lies behind the train', () => {
    expect(named([inB])).toEqual(['W', 'H']);
  });

  it('start where the way ends, not where the train stands', () => {
    expect(named([inB, overT, inW])).toEqual(['H']);
  });

  it('are all that a facing turnout leads to', () => {
    expect(named([item('W', 'a', 'b', 0, 2000)]).toSorted()).toEqual(['A', 'B']);
  });

  it('are none beyond a loop that leads back over the same turnout', () => {
    const loop = compileLayout({
      ...layout.file,
      joins: [...layout.file.joins, ['A.b', 'B.b']] as LayoutFile['joins'],
    });
    const blocks = blocksAhead(loop, elementOf(loop, 'W') * 2);
    expect(blocks.map((block) => loop.elements[block]?.id).toSorted()).toEqual(['A', 'B']);
  });

  it('are none for a train without a place', () => {
    expect(named([])).toEqual([]);
  });
});

it('only blocks have headings', () => {
  expect(headingOn(layout, inW)).toBe(elementOf(layout, 'W') * 2 + 1);
  expect(headingOn(layout, overT)).toBe(-1);
  expect(headingOn(layout, undefined)).toBe(-1);
});
