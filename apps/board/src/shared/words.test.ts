import { headingOf } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { elementOf, smallLayout } from '../testing/small-layout.js';
import { clockText, latenessText, latenessWords } from './fast-text.js';
import { headingChoices, headingName } from './track-words.js';

describe('times as texts', () => {
  it('wraps the clock at midnight', () => {
    expect(clockText((8 * 60 + 32) * 60_000 + 59_999)).toBe('08:32');
    expect(clockText(25 * 60 * 60_000)).toBe('01:00');
  });

  it('tells lateness in whole minutes', () => {
    expect([125, -70, 59, -59].map(latenessText)).toEqual(['+2', '−1', '0', '0']);
    expect([125, -70, 0].map(latenessWords)).toEqual([
      '2 minutes late',
      '1 minute early',
      'on time',
    ]);
  });
});

describe('places as words', () => {
  const layout = smallLayout();

  it('name the block and what its front looks to', () => {
    expect(headingName(layout, headingOf(elementOf(layout, 'W'), 'b'))).toBe(
      'W, front towards Track 1 or Track 2',
    );
    expect(headingName(layout, headingOf(elementOf(layout, 'A'), 'b'))).toBe(
      'Track 1, front towards its end b',
    );
  });

  it('offer both directions of every block once, stations first', () => {
    const choices = headingChoices(layout);
    expect(choices.map(({ group }) => group)).toEqual(['Smallham', 'Other blocks']);
    const all = choices.flatMap(({ headings }) => headings);
    expect(new Set(all).size).toBe(8);
    expect(all).toHaveLength(8);
  });
});
