import { describe, expect, it } from 'vitest';
import { routeOf } from '../testing/edit.js';
import {
  block,
  bufferStop,
  crossing,
  layoutOf,
  slip,
  threeWay,
  turnout,
} from '../testing/layout-parts.js';
import { compileLayout } from './compile-layout.js';
import type { Layout } from './layout.js';

/** The flank of a route, with names in place of numbers. */
const flankOf = (layout: Layout, id: string): string[] =>
  routeOf(layout, id).flank.map(({ turnout: at, by }) => {
    const name = (index: number): string => layout.elements[index]?.id ?? '';
    switch (by.kind) {
      case 'turnout':
        return `${name(at)}: ${name(by.element)} ${by.position}`;
      case 'signal':
        return `${name(at)}: signal ${name(by.block)}`;
      case 'buffer-stop':
        return `${name(at)}: buffer stop ${name(by.element)}`;
      case 'none':
        return `${name(at)}: none, ${by.why}`;
    }
  });

describe('flank protection', () => {
  it('sets the other turnout of a crossover away', () => {
    const layout = compileLayout(
      layoutOf(
        [block('A1'), turnout('T1'), block('B1'), block('A2'), turnout('T2'), block('B2')],
        [
          'A1.b T1.stem',
          'T1.straight B1.a',
          'A2.b T2.straight',
          'T2.stem B2.a',
          'T1.diverging T2.diverging',
        ],
      ),
    );
    expect(flankOf(layout, 'A1>B1')).toEqual(['T1: T2 straight']);
    // Over the crossover both turnouts are passed; the signals of the tracks beside protect.
    expect(flankOf(layout, 'A1>B2')).toEqual(['T1: signal B1', 'T2: signal A2']);
  });

  it('is given by a buffer stop', () => {
    const layout = compileLayout(
      layoutOf(
        [block('A'), turnout('T'), block('B'), bufferStop('E')],
        ['A.b T.stem', 'T.straight B.a', 'T.diverging E.a'],
      ),
    );
    expect(flankOf(layout, 'A>B')).toEqual(['T: buffer stop E']);
  });

  it('branches where a turnout is met at its stem', () => {
    const layout = compileLayout(
      layoutOf(
        [block('A'), turnout('T'), block('B'), turnout('U'), block('C'), block('D')],
        ['A.b T.stem', 'T.straight B.a', 'T.diverging U.stem', 'U.straight C.a', 'U.diverging D.a'],
      ),
    );
    expect(flankOf(layout, 'A>B')).toEqual(['T: signal C', 'T: signal D']);
  });

  it('looks straight across a crossing, and on both sides of one it passes', () => {
    const layout = compileLayout(
      layoutOf(
        [block('A'), turnout('T'), block('B'), crossing('X'), block('C'), block('D'), block('E')],
        ['A.b T.stem', 'T.straight B.a', 'T.diverging X.a', 'X.c C.a', 'X.b D.a', 'X.d E.a'],
      ),
    );
    expect(flankOf(layout, 'A>B')).toEqual(['T: signal C']);
    expect(flankOf(layout, 'D>E')).toEqual(['X: T straight', 'X: signal C']);
  });

  it('protects both unused legs of a three-way turnout', () => {
    const layout = compileLayout(
      layoutOf(
        [block('A'), threeWay('W'), block('L'), block('S'), block('R')],
        ['A.b W.stem', 'W.left L.a', 'W.straight S.a', 'W.right R.a'],
      ),
    );
    expect(flankOf(layout, 'A>S')).toEqual(['W: signal L', 'W: signal R']);
  });

  it('sets a single slip away where only one of its positions leads here', () => {
    const layout = compileLayout(
      layoutOf(
        [
          block('A'),
          turnout('T'),
          block('B'),
          slip('X', 'single-slip'),
          block('C'),
          block('D'),
          block('E'),
        ],
        ['A.b T.stem', 'T.straight B.a', 'T.diverging X.c', 'X.a C.a', 'X.b D.a', 'X.d E.a'],
      ),
    );
    expect(flankOf(layout, 'A>B')).toEqual(['T: X slip']);
  });

  it('says why when track comes back to itself without a signal', () => {
    const layout = compileLayout(
      layoutOf(
        [block('A'), turnout('T'), block('B'), crossing('X'), crossing('Y')],
        [
          'A.b T.stem',
          'T.straight B.a',
          'T.diverging X.a',
          'X.c Y.a',
          'Y.c X.b',
          'X.d Y.b',
          'Y.d X.d',
        ],
      ),
    );
    const [only] = flankOf(layout, 'A>B');
    expect(only).toMatch(/^T: none, /);
  });

  it('asks a turnout for one position only', () => {
    const layout = compileLayout(
      layoutOf(
        [block('A'), turnout('T'), turnout('U'), block('B'), turnout('X'), block('C')],
        [
          'A.b T.stem',
          'T.straight U.stem',
          'U.straight B.a',
          'T.diverging X.straight',
          'U.diverging X.diverging',
          'X.stem C.a',
        ],
      ),
    );
    expect(flankOf(layout, 'A>B')).toEqual([
      'T: X diverging',
      'U: none, X is needed diverging to protect another element of the way',
    ]);
  });
});
