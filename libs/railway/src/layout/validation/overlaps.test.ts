import { describe, expect, it } from 'vitest';
import { edited, elementOf } from '../../testing/edit.js';
import { passingLoop } from '../../testing/layout-parts.js';
import type { LayoutFile } from '../layout-file.js';
import { validateLayout } from '../validate-layout.js';

const asking = (block: string, overlap: { a?: number; b?: number }): LayoutFile =>
  edited(passingLoop(), (file) => {
    elementOf(file, block, 'block').overlap = overlap;
  });

describe('an overlap', () => {
  it('may be as long as the track straight on', () => {
    expect(validateLayout(asking('M', { a: 1730, b: 1730 }))).toEqual([]);
  });

  it('is refused where the track ends before it does', () => {
    expect(validateLayout(asking('M', { b: 1731 }))).toEqual([
      {
        place: 'elements[3] M overlap b',
        text: 'an overlap of 1731 mm is asked for, but straight on beyond end b there are 1730 mm of track',
        mend: 'enter 1730 mm or less',
      },
    ]);
  });

  it('is refused where nothing lies beyond', () => {
    expect(validateLayout(asking('W', { a: 1 }))).toMatchObject([
      { place: 'elements[1] W overlap a', mend: 'leave it out' },
    ]);
  });
});
