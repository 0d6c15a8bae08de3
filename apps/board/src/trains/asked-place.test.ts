import { headingOf } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { elementOf, smallLayout } from '../testing/small-layout.js';
import { trainRow } from '../testing/train-row.js';
import { askedPlace, headingUnderHead } from './asked-place.js';

const layout = smallLayout();
const path = [
  { element: elementOf(layout, 'B'), from: 'b', to: 'a', start: 0, end: 1000 },
  { element: elementOf(layout, 'T'), from: 'diverging', to: 'stem', start: 1000, end: 1200 },
  { element: elementOf(layout, 'W'), from: 'b', to: 'a', start: 1200, end: 3200 },
];
const at = (head: number) =>
  trainRow({ path, motion: { head, speed: 0, target: 0, acceleration: 0, since: 0 } });
const listed = (status: 'ask' | 'confirmed') => ({
  train: 0,
  heading: 3,
  place: '',
  status,
  text: '',
});

describe("the place of a train's head", () => {
  it('is the block under it, in the direction of travel', () => {
    expect(headingUnderHead(layout, at(400))).toBe(headingOf(elementOf(layout, 'B'), 'a'));
    expect(headingUnderHead(layout, at(2000))).toBe(headingOf(elementOf(layout, 'W'), 'a'));
  });

  it('is none over a turnout or without a path', () => {
    expect(headingUnderHead(layout, at(1100))).toBe(-1);
    expect(headingUnderHead(layout, trainRow())).toBe(-1);
  });
});

describe('what is asked about a train', () => {
  it('is what the line-up leaves open', () => {
    expect(askedPlace(layout, at(400), [listed('ask')])?.heading).toBe(3);
    expect(
      askedPlace(layout, { ...at(400), known: 'ambiguous' }, [listed('confirmed')]),
    ).toBeNull();
  });

  it('is its believed place while trains run and it is ambiguous', () => {
    const asked = askedPlace(layout, { ...at(400), known: 'ambiguous' }, []);
    expect(asked).toMatchObject({ status: 'ask', heading: headingOf(elementOf(layout, 'B'), 'a') });
    expect(askedPlace(layout, at(400), [])).toBeNull();
  });
});
