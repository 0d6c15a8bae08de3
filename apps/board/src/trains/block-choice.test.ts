import { compileLayout } from '@blockbell/railway';
import type { LayoutFile } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { elementOf, smallLayout } from '../testing/small-layout.js';
import { blockCalled, blockTitles } from './block-choice.js';

const layout = smallLayout();
const alike = compileLayout({
  ...layout.file,
  elements: layout.file.elements.map((element) =>
    element.kind === 'block' && element.name ? { ...element, name: 'Track' } : element,
  ),
} satisfies LayoutFile);

describe('titles of blocks', () => {
  it('are names, or ids where a block has no name; turnouts have none', () => {
    expect([...blockTitles(layout).values()].toSorted()).toEqual(['H', 'Track 1', 'Track 2', 'W']);
  });

  it('tell blocks of one name apart', () => {
    expect([...blockTitles(alike).values()].toSorted()).toEqual([
      'H',
      'Track (A)',
      'Track (B)',
      'W',
    ]);
  });
});

describe('the block that is meant', () => {
  it('is found by title and by id, in any letters', () => {
    expect(blockCalled(layout, ' track 2 ')).toBe(elementOf(layout, 'B'));
    expect(blockCalled(layout, 'b')).toBe(elementOf(layout, 'B'));
    expect(blockCalled(alike, 'Track (A)')).toBe(elementOf(alike, 'A'));
  });

  it('is none for a turnout, a name of two blocks, and nothing', () => {
    expect(blockCalled(layout, 'T')).toBeNull();
    expect(blockCalled(alike, 'Track')).toBeNull();
    expect(blockCalled(layout, '')).toBeNull();
  });
});
