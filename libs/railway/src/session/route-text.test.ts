import { expect, it } from 'vitest';
import { compileLayout } from '../layout/compile-layout.js';
import type { Layout } from '../layout/layout.js';
import type { StationFile } from '../layout/layout-file.js';
import { block, layoutOf, passingLoop, turnout } from '../testing/layout-parts.js';
import { routeText } from './route-text.js';

const texts = (layout: Layout): readonly string[] =>
  layout.routes.map((route) => `${route.id}: ${routeText(layout, route)}`);

const station = (blocks: readonly string[]): StationFile =>
  ({
    id: 'vale',
    name: 'Vale',
    kind: 'station',
    tracks: [{ id: 'V', name: '2', blocks, platform: true }],
  }) as unknown as StationFile;

it('names the track of a station, a block by its name, or the block', () => {
  const parts = [block('A'), block('B', 1000, { name: 'Hill line' }), block('C')];
  const line = layoutOf(parts, ['A.b B.a', 'B.b C.a']);
  const layout = compileLayout({ ...line, stations: [station(['A'])] });
  expect(texts(layout)).toEqual([
    'A>B: Vale 2 → Hill line',
    'B>C: Hill line → block C',
    'B>A: Hill line → Vale 2',
    'C>B: block C → Hill line',
  ]);
});

it('tells the slots of one track apart', () => {
  const line = layoutOf([block('A'), block('B')], ['A.b B.a']);
  const layout = compileLayout({ ...line, stations: [station(['A', 'B'])] });
  expect(texts(layout)).toEqual(['A>B: Vale 2, A → Vale 2, B', 'B>A: Vale 2, B → Vale 2, A']);
});

it('tells ways between the same blocks apart by their turnouts', () => {
  const ways = layoutOf(
    [block('A'), turnout('T1'), turnout('T2'), block('B')],
    ['A.b T1.stem', 'T1.straight T2.straight', 'T1.diverging T2.diverging', 'T2.stem B.a'],
  );
  expect(texts(compileLayout(ways)).slice(0, 2)).toEqual([
    'A>B/T1.straight/T2.straight: block A → block B over T1 straight, T2 straight',
    'A>B/T1.diverging/T2.diverging: block A → block B over T1 diverging, T2 diverging',
  ]);
});

it('tells every route of a layout from every other one', () => {
  const ring = compileLayout(layoutOf([block('A'), block('B')], ['A.b B.a', 'B.b A.a']));
  expect(texts(ring)).toContain('A.b>B.a: block A → block B out of its end b');
  for (const layout of [ring, compileLayout(passingLoop())]) {
    const names = layout.routes.map((route) => routeText(layout, route));
    expect(new Set(names).size).toBe(layout.routes.length);
  }
});
