import { compileLayout } from '@blockbell/railway';
import type { Leg } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { smallLayout } from '../testing/small-layout.js';
import { gapsOf } from './junction-gaps.js';

const layout = compileLayout(smallLayout().file);
const turnout = layout.elements.find(({ kind }) => kind === 'turnout')?.legs ?? [];
const template = turnout[0];
if (!template) throw new Error('the small layout has a turnout');
const leg = (from: string, to: string, position: string | null): Leg => ({
  ...template,
  from,
  to,
  position,
});
const isWhole = ({ from, to }: { from: number; to: number }): boolean => from === 0 && to === 1;

describe('legs as drawn', () => {
  it('joins the selected leg of a turnout and opens the other at the stem', () => {
    const [straight, diverging] = gapsOf(turnout, 'straight');
    expect(straight).toEqual({ from: 0, to: 1 });
    expect(diverging?.from).toBeGreaterThan(0.2);
    expect(diverging?.to).toBe(1);
  });

  it('joins no leg while the position is not known', () => {
    expect(gapsOf(turnout, null).some(isWhole)).toBe(false);
  });

  it('draws both tracks of a crossing whole', () => {
    expect(gapsOf([leg('a', 'c', null), leg('b', 'd', null)], null).every(isWhole)).toBe(true);
  });

  it('opens what a slip does not select only where legs share a port', () => {
    const legs = [leg('a', 'c', 'cross'), leg('b', 'd', 'cross'), leg('a', 'd', 'slip')];
    const [ac, bd, ad] = gapsOf(legs, 'slip');
    expect(ad).toEqual({ from: 0, to: 1 });
    expect(ac?.from).toBeGreaterThan(0);
    expect(ac?.to).toBe(1);
    expect(bd?.from).toBe(0);
    expect(bd?.to).toBeLessThan(1);
  });
});
