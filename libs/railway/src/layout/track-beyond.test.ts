import { describe, expect, it } from 'vitest';
import { edited, elementOf } from '../testing/edit.js';
import { balloonLoop } from '../testing/layout-parts.js';
import { dividedLoop, line } from '../testing/session-settings.js';
import { compileLayout } from './compile-layout.js';
import type { LayoutFile } from './layout-file.js';
import { headingOf } from './layout.js';
import { sectionsBeyond } from './track-beyond.js';

/** The ids of the sections within so many mm beyond an end of a block, in order of name. */
function beyond(file: LayoutFile, block: string, end: 'a' | 'b', reach: number): string[] {
  const layout = compileLayout(file);
  const heading = headingOf(layout.elementByName.get(block)!, end);
  return [...sectionsBeyond(layout, heading, reach)].map((it) => layout.sections[it]!.id).sort();
}

describe('the sections beyond the end of a block', () => {
  it('are those within reach, over every leg of a turnout', () => {
    expect(beyond(dividedLoop(), 'W', 'b', 230)).toEqual(['s-TW']);
    expect(beyond(dividedLoop(), 'W', 'b', 600)).toEqual(['m1', 'm2', 's-TW', 's1', 's2']);
    expect(beyond(dividedLoop(), 'W', 'a', 600)).toEqual([]);
  });

  it('go on through block after block', () => {
    expect(beyond(line(), 'A', 'b', 1301)).toEqual(['b1', 'b2', 'c1', 'c2']);
    expect(beyond(line(), 'D', 'a', 1001)).toEqual(['b2', 'c1', 'c2']);
  });

  it('do not ask which way trains may run', () => {
    const oneWay = edited(dividedLoop(), (file) => {
      for (const id of ['W', 'M', 'E']) elementOf(file, id, 'block').directions = 'a-to-b';
    });
    expect(beyond(oneWay, 'M', 'a', 600)).toEqual(['s-TW', 'w2', 'w3']);
  });

  it('leave out the block itself where its ends meet', () => {
    expect(beyond(balloonLoop(), 'L', 'b', 3000)).toEqual(['s-A', 's-T']);
  });
});
