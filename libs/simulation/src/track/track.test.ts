import { compileLayout } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { circle, crossroads, passingLoop, reversingLoop } from '../test-support/layouts.js';
import { buildTrack } from './track.js';
import { oppositeWay } from './ways.js';
import type { Way } from './ways.js';

const layouts = { passingLoop, circle, reversingLoop, crossroads };

const find = (layout: ReturnType<typeof compileLayout>, element: string, entry: string): Way => {
  const index = layout.elementByName.get(element);
  return buildTrack(layout).ways.find((way) => way.element === index && way.entry === entry)!;
};

describe('ways', () => {
  it.each(Object.entries(layouts))(
    '%s: pieces follow one another over the whole leg',
    (_, file) => {
      const { ways } = buildTrack(compileLayout(file()));
      expect(ways.length).toBeGreaterThan(3);
      for (const way of ways) {
        let reached = 0;
        for (const piece of way.pieces) {
          expect(piece.from).toBe(reached);
          expect(piece.to).toBeGreaterThan(piece.from);
          reached = piece.to;
        }
        expect(reached).toBe(way.length);
      }
    },
  );

  it.each(Object.entries(layouts))('%s: a way and its opposite are one track', (_, file) => {
    const { ways } = buildTrack(compileLayout(file()));
    for (const way of ways) {
      const back = ways[oppositeWay(way.index)]!;
      expect(back).toMatchObject({ element: way.element, leg: way.leg, entry: way.exit });
      const mirrored = back.pieces.toReversed().map((piece) => ({
        from: way.length - piece.to,
        to: way.length - piece.from,
        section: piece.section,
        claims: new Set(piece.claims.map(({ element, slot }) => `${element}/${slot}`)),
      }));
      const straight = way.pieces.map((piece) => ({
        ...piece,
        claims: new Set(piece.claims.map(({ element, slot }) => `${element}/${slot}`)),
      }));
      expect(straight).toEqual(mirrored);
    }
  });

  it('end at a buffer stop, and lead on over joins', () => {
    const layout = compileLayout(passingLoop());
    expect(find(layout, 'west', 'b').next).toBeNull();
    const next = find(layout, 'west', 'a').next!;
    expect(layout.elements[next.element]!.id).toBe('points-w');
    expect(next.ways).toHaveLength(2);
  });

  it('cut a block where a turnout beyond it is fouled: 80 mm before the leaf port, not before the stem', () => {
    const layout = compileLayout(passingLoop());
    expect(find(layout, 'main', 'a').pieces.map(({ from, to }) => [from, to])).toEqual([
      [0, 80],
      [80, 400],
      [400, 1600],
      [1600, 1920],
      [1920, 2000],
    ]);
    expect(find(layout, 'west', 'a').pieces.map(({ to }) => to)).toEqual([700, 2000]);
  });

  it('carry the gaps of reversing sections in both directions', () => {
    const layout = compileLayout(reversingLoop());
    const reversing = layout.elementByName.get('polarity')!;
    expect(find(layout, 'loop', 'b').next!.gaps).toEqual([{ reversing, polarity: 'normal' }]);
    expect(find(layout, 'points', 'stem').next!.gaps).toEqual([{ reversing, polarity: 'normal' }]);
    expect(find(layout, 'loop', 'a').next!.gaps).toEqual([{ reversing, polarity: 'reversed' }]);
    expect(find(layout, 'lead', 'a').next!.gaps).toEqual([]);
  });
});

describe('claims that exclude one another', () => {
  it('a turnout: its legs, and standing foul of one against the other', () => {
    const layout = compileLayout(passingLoop());
    const table = buildTrack(layout).conflicts[layout.elementByName.get('points-w')!]!;
    // Slots: straight, diverging; beyond stem, beyond straight, beyond diverging.
    expect(table[0]).toEqual([false, true, false, false, true]);
    expect(table[1]).toEqual([true, false, false, true, false]);
    expect(table[3]).toEqual([false, true, false, false, true]);
  });

  it('a crossing: the other track, and the port beside, but not the port across', () => {
    const layout = compileLayout(crossroads());
    const table = buildTrack(layout).conflicts[layout.elementByName.get('crossing')!]!;
    // Slots: a–c, b–d; beyond a, c, b, d.
    expect(table[0]).toEqual([false, true, false, false, true, true]);
    expect(table[2]).toEqual([false, true, false, false, true, false]);
  });
});
