import { describe, expect, it } from 'vitest';
import { routeOf } from '../testing/edit.js';
import { balloonLoop, block, crossing, layoutOf, passingLoop } from '../testing/layout-parts.js';
import { compileLayout } from './compile-layout.js';
import { elementsHeld } from './conflicts.js';
import type { Layout } from './layout.js';

const conflictsOf = (layout: Layout, id: string): string[] =>
  routeOf(layout, id)
    .conflicts.map((index) => layout.routes[index]?.id ?? '')
    .sort();

describe('conflicts', () => {
  it('are routes over the same turnout or into the same block', () => {
    const layout = compileLayout(passingLoop());
    expect(conflictsOf(layout, 'W>M')).toEqual(['E>M', 'M>W', 'S>W', 'W>S']);
  });

  it('are the routes over the same crossing', () => {
    const layout = compileLayout(
      layoutOf(
        [block('A'), block('B'), crossing('X'), block('C'), block('D')],
        ['A.b X.a', 'B.b X.b', 'X.c C.a', 'X.d D.a'],
      ),
    );
    expect(conflictsOf(layout, 'A>C')).toEqual(['B>D', 'C>A', 'D>B']);
  });

  it('count the polarity of a reversing section among what is held', () => {
    const layout = compileLayout(balloonLoop());
    const names = [...elementsHeld(routeOf(layout, 'A>L/T.straight').steps)].map(
      (index) => layout.elements[index]?.id,
    );
    expect(names).toEqual(['T', 'L', 'R']);
  });
});
