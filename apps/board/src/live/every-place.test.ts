import { missingPlaces } from '@blockbell/drawing';
import { compileLayout } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { smallLayout } from '../testing/small-layout.js';
import { drawLayout } from '../track/diagram.js';
import { withEveryPlace } from './every-place.js';

describe('a layout on the board', () => {
  const { file } = smallLayout(false);

  it('has every element drawn, whether the server told the places or not', async () => {
    const found = await withEveryPlace(file);
    expect(await withEveryPlace(file, missingPlaces(file))).toEqual(found);
    const lines = drawLayout(compileLayout(found))?.blocks.map(({ line }) => line.length) ?? [];
    expect(lines).toHaveLength(4);
    expect(lines.every((length) => length > 0)).toBe(true);
  });

  it('is left alone when its file places everything', async () => {
    const { file: placed } = smallLayout();
    expect(await withEveryPlace(placed)).toBe(placed);
    expect(await withEveryPlace(placed, {})).toBe(placed);
  });
});
