import { compileLayout } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { elementOf, smallLayout } from '../testing/small-layout.js';
import { overlap } from './box.js';
import { drawLayout } from './diagram.js';
import type { Diagram } from './diagram.js';
import { drawingUnit } from './drawing-unit.js';
import { arrowsAlong, placeOf, stretchOf } from './path-shape.js';

const layout = smallLayout();
const unit = drawingUnit(layout);
const found = drawLayout(layout);
if (!found) throw new Error('the small layout is drawn');
const diagram: Diagram = found;
const index = (id: string): number => elementOf(layout, id);
const shapeOf = (id: string) => diagram.blocks.find(({ element }) => element.id === id);

describe('a drawing', () => {
  it('takes the distance between tracks for its unit, whatever the builder draws in', () => {
    expect(unit).toBe(5);
    expect(shapeOf('A')?.line.length).toBe(8);
  });

  it('moves levels apart that are drawn over one another, and leaves the first in place', () => {
    const [open, under] = diagram.grounds;
    expect([open?.name, under?.name, under?.hidden]).toEqual(['Open', 'Under', true]);
    expect(open && under && overlap(open.box, under.box)).toBe(false);
    expect(shapeOf('A')?.line.points[0]).toEqual([8, 0]);
  });

  it('gives the same letter to both ends of a join that is drawn apart', () => {
    expect(diagram.links.map(({ letter }) => letter)).toEqual(['A']);
  });

  it('knows which part of a block each section sees', () => {
    expect(shapeOf('W')?.pieces).toEqual([
      { section: 0, from: 0, to: 0.25 },
      { section: 1, from: 0.25, to: 1 },
    ]);
  });

  it('is none without track', () => {
    const { file } = smallLayout(false);
    const bare = compileLayout({ ...file, elements: [], joins: [], stations: [] });
    expect(drawLayout(bare)).toBeNull();
  });
});

describe('a held path on the drawing', () => {
  const path = [
    { element: index('B'), from: 'b', to: 'a', start: 0, end: 1000 },
    { element: index('T'), from: 'diverging', to: 'stem', start: 1000, end: 1200 },
    { element: index('W'), from: 'b', to: 'a', start: 1200, end: 3200 },
    { element: index('H'), from: 'a', to: 'b', start: 3200, end: 4200 },
  ];

  it('maps millimetres in proportion, element by element, in the direction of travel', () => {
    expect(placeOf(diagram, path, 500)?.point).toEqual([12, 0.8]);
    expect(placeOf(diagram, path, 1100)?.point).toEqual([7, 0.4]);
    // W is drawn 30 + 10 long and run from b to a: half of it is 20 before the bend's far end.
    expect(placeOf(diagram, path, 2200)?.point).toEqual([2, 0]);
    expect(placeOf(diagram, path, 2200)?.angle).toBeCloseTo(Math.PI);
  });

  it('joins the stretches of neighbours and breaks where the drawing does', () => {
    const stretches = stretchOf(diagram, path, 500, 3700);
    expect(stretches).toHaveLength(2);
    expect(stretches[0]?.[0]).toEqual([12, 0.8]);
    expect(stretches[0]?.at(-1)).toEqual([0, 2]);
    expect(stretches[1]?.[0]?.[0]).toBe(0);
  });

  it('leaves out what lies outside', () => {
    expect(stretchOf(diagram, path, 1300, 1400)).toHaveLength(1);
    expect(stretchOf(diagram, path, 5000, 6000)).toEqual([]);
  });
});

describe('arrows on a reserved way', () => {
  it('stand evenly, point along it, and stay while its end comes nearer', () => {
    const arrowsUpTo = (end: number) =>
      arrowsAlong(
        [
          [0, 0],
          [end, 0],
        ],
        4,
      );
    const arrows = arrowsUpTo(10);
    expect(arrows.map(({ point: [x] }) => x)).toEqual(
      [4 / 3, 16 / 3, 28 / 3].map((x) => expect.closeTo(x)),
    );
    for (const end of [9.8, 7.1, 5])
      for (const [index, { point }] of arrowsUpTo(end).entries())
        expect(point[0]).toBeCloseTo(arrows[index]?.point[0] ?? NaN);
    expect(arrowsUpTo(7.1)).toHaveLength(2);
    expect(arrows.every(({ angle }) => angle === 0)).toBe(true);
    expect(
      arrowsAlong(
        [
          [0, 0],
          [1, 0],
        ],
        4,
      ),
    ).toEqual([]);
  });
});
