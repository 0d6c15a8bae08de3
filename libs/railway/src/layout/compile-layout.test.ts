import { describe, expect, it } from 'vitest';
import { balloonLoop, passingLoop } from '../testing/layout-parts.js';
import { compileLayout, compileLayoutForDrawing } from './compile-layout.js';
import { headingOf } from './layout.js';
import type { Layout } from './layout.js';

const index = (layout: Layout, id: string): number => layout.elementByName.get(id) ?? -1;
const heading = (layout: Layout, id: string, towards: 'a' | 'b'): number =>
  headingOf(index(layout, id), towards);
const route = (layout: Layout, id: string) => {
  const found = layout.routes.find((it) => it.id === id);
  if (found === undefined) throw new Error(`no route ${id}`);
  return found;
};

describe('a passing loop compiled', () => {
  const layout = compileLayout(passingLoop());

  it('has every route from block end to block, both ways', () => {
    expect(layout.routes.map((it) => it.id).sort()).toEqual(
      ['W>M', 'W>S', 'M>W', 'S>W', 'M>E', 'S>E', 'E>M', 'E>S'].sort(),
    );
    expect(layout.routesFrom[heading(layout, 'W', 'b')]).toHaveLength(2);
    expect(layout.routesFrom[heading(layout, 'W', 'a')]).toHaveLength(0);
  });

  it('passes the turnout and the whole target block', () => {
    const way = route(layout, 'E>S');
    expect(way.steps.map((it) => layout.elements[it.element]?.id)).toEqual(['TE', 'S']);
    expect(way.steps[0]?.leg).toMatchObject({
      from: 'stem',
      to: 'diverging',
      position: 'diverging',
    });
    expect(way.steps[1]?.leg).toMatchObject({ from: 'b', to: 'a' });
    expect(way.to).toBe(heading(layout, 'S', 'a'));
    expect(way.length).toBe(240 + 1200);
    expect(way.speedLimit).toBe(128);
    expect(route(layout, 'E>M').speedLimit).toBeNull();
  });

  it('protects each turnout by the signal of the track not used', () => {
    expect(route(layout, 'W>M').flank).toEqual([
      { turnout: index(layout, 'TW'), by: { kind: 'signal', block: index(layout, 'S') } },
    ]);
  });

  it('stops trains clear of the turnout ahead, unless the builder marks a place', () => {
    const track = layout.elements[index(layout, 'S')];
    expect(track?.stopMarks).toEqual([160, 160]);
    expect(layout.elements[index(layout, 'W')]?.stopMarks).toEqual([60, 60]);
  });
});

describe('a balloon loop compiled', () => {
  const layout = compileLayout(balloonLoop());

  it('tells the two ways round apart by the turnout', () => {
    expect(layout.routes.map((it) => it.id).sort()).toEqual(
      ['A>L/T.straight', 'A>L/T.diverging', 'L>A/T.straight', 'L>A/T.diverging'].sort(),
    );
  });

  it('asks for the polarity of the gap crossed, inwards and outwards', () => {
    const polarity = index(layout, 'R');
    expect(layout.elements[polarity]).toMatchObject({ kind: 'polarity', file: null });
    expect(route(layout, 'A>L/T.straight').steps.map((it) => it.gaps)).toEqual([
      [],
      [{ element: polarity, polarity: 'normal' }],
    ]);
    expect(route(layout, 'L>A/T.diverging').steps.map((it) => it.gaps)).toEqual([
      [{ element: polarity, polarity: 'reversed' }],
      [],
    ]);
  });
});

describe('a layout compiled for drawing', () => {
  it.each([passingLoop(), balloonLoop()])('is the same, its ways included', (file) => {
    const whole = compileLayout(file);
    const drawn = compileLayoutForDrawing(file);
    expect(Object.keys(drawn).toSorted()).toEqual(Object.keys(whole).toSorted());
    expect(drawn).toEqual(whole);
    expect(drawn.routes).toBe(drawn.routes);
  });
});
