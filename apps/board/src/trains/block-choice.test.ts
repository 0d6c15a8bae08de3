import { compileLayout } from '@blockbell/railway';
import type { LayoutFile } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { elementOf, smallLayout } from '../testing/small-layout.js';
import { blockCalled, blockTitles } from './block-choice.js';

const layout = smallLayout();
/** The same without its station and with one name for both of its tracks. */
const alike = compileLayout({
  ...layout.file,
  stations: [],
  elements: layout.file.elements.map((element) =>
    element.kind === 'block' && element.name ? { ...element, name: 'Track' } : element,
  ),
} satisfies LayoutFile);

const titles = (of: typeof layout) => [...blockTitles(of).values()].toSorted();

describe('titles of blocks', () => {
  it("are a station's tracks, else names, else ids; turnouts have none", () => {
    expect(titles(layout)).toEqual(['H', 'Smallham 1', 'Smallham 2', 'W']);
  });

  it('tell blocks of one name apart', () => {
    expect(titles(alike)).toEqual(['H', 'Track (A)', 'Track (B)', 'W']);
  });
});

describe('the block that is meant', () => {
  it('is found by title, name and id, in any letters', () => {
    expect(blockCalled(layout, ' smallham 2 ')).toBe(elementOf(layout, 'B'));
    expect(blockCalled(layout, 'Track 2')).toBe(elementOf(layout, 'B'));
    expect(blockCalled(layout, 'b')).toBe(elementOf(layout, 'B'));
    expect(blockCalled(alike, 'Track (A)')).toBe(elementOf(alike, 'A'));
  });

  it('is none for a turnout, a name of two blocks, and nothing', () => {
    expect(blockCalled(layout, 'T')).toBeNull();
    expect(blockCalled(alike, 'Track')).toBeNull();
    expect(blockCalled(layout, '')).toBeNull();
  });
});
