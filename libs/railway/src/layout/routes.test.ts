import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { edited, elementOf, indexOf, routeIds, routeOf } from '../testing/edit.js';
import {
  block,
  bufferStop,
  crossing,
  detection,
  layoutOf,
  passingLoop,
  slip,
  threeWay,
  turnout,
} from '../testing/layout-parts.js';
import { compileLayout } from './compile-layout.js';
import type { Layout } from './layout.js';

const DOUBLE_SLIP = () =>
  compileLayout(
    layoutOf(
      [block('A'), block('B'), slip('X', 'double-slip'), block('C'), block('D')],
      ['A.b X.a', 'B.b X.b', 'X.c C.a', 'X.d D.a'],
    ),
  );

describe('routes', () => {
  it('lead straight over a crossing, never round its corner', () => {
    const layout = compileLayout(
      layoutOf(
        [block('A'), block('B'), crossing('X'), block('C'), block('D')],
        ['A.b X.a', 'B.b X.b', 'X.c C.a', 'X.d D.a'],
      ),
    );
    expect(routeIds(layout)).toEqual(['A>C', 'B>D', 'C>A', 'D>B']);
    expect(routeOf(layout, 'A>C').steps[0]?.leg.position).toBeNull();
  });

  it('use the curves of a slip', () => {
    const layout = DOUBLE_SLIP();
    expect(routeIds(layout)).toEqual(['A>C', 'A>D', 'B>C', 'B>D', 'C>A', 'C>B', 'D>A', 'D>B']);
    expect(routeOf(layout, 'B>C').steps[0]?.leg.position).toBe('slip');
    expect(routeOf(layout, 'D>B').steps[0]?.leg.position).toBe('cross');
  });

  it('reach all three legs of a three-way turnout', () => {
    const layout = compileLayout(
      layoutOf(
        [block('A'), threeWay('W'), block('L'), block('S'), block('R')],
        ['A.b W.stem', 'W.left L.a', 'W.straight S.a', 'W.right R.a'],
      ),
    );
    expect(routeIds(layout)).toEqual(['A>L', 'A>R', 'A>S', 'L>A', 'R>A', 'S>A']);
  });

  it('respect permitted directions at both ends', () => {
    const layout = compileLayout(
      edited(passingLoop(), (file) => {
        elementOf(file, 'M', 'block').directions = 'a-to-b';
      }),
    );
    expect(routeIds(layout)).toEqual(['E>S', 'M>E', 'S>E', 'S>W', 'W>M', 'W>S']);
  });

  it('run through neighbouring blocks without turnouts between', () => {
    const layout = compileLayout(layoutOf([block('A'), block('B', 700)], ['A.b B.b']));
    expect(routeOf(layout, 'A>B')).toMatchObject({ length: 700, speedLimit: null });
    expect(routeOf(layout, 'A>B').steps[0]?.leg).toMatchObject({ from: 'b', to: 'a' });
  });

  it('list detection in the order of travel', () => {
    const layout = compileLayout(
      layoutOf(
        [block('A'), block('B', 0, { detection: detection(['s1', 300], [null, 50], ['s2', 400]) })],
        ['A.b B.b'],
      ),
    );
    const s1 = layout.sectionByName.get('s1');
    const s2 = layout.sectionByName.get('s2');
    expect(routeOf(layout, 'A>B').steps[0]?.pieces).toEqual([
      { section: s2, length: 400 },
      { section: -1, length: 50 },
      { section: s1, length: 300 },
    ]);
    expect(layout.elements[indexOf(layout, 'B')]?.sections).toEqual([s1, s2]);
  });

  it('are told apart by their ends where two blocks form a ring', () => {
    const layout = compileLayout(layoutOf([block('A'), block('B')], ['A.b B.a', 'B.b A.a']));
    expect(routeIds(layout)).toEqual(['A.a>B.b', 'A.b>B.a', 'B.a>A.b', 'B.b>A.a']);
  });

  it('never lead into the block they start from', () => {
    const layout = compileLayout(
      layoutOf(
        [block('R'), turnout('T'), block('S'), bufferStop('E')],
        ['R.b T.stem', 'T.straight R.a', 'T.diverging S.a', 'S.b E.a'],
      ),
    );
    expect(routeIds(layout)).toEqual(['R>S', 'S>R']);
  });
});

/** A yard: a lead with a ladder of turnouts to any number of tracks, each through to a second ladder or dead. */
const yards = fc
  .record({ tracks: fc.integer({ min: 1, max: 7 }), through: fc.boolean() })
  .map(({ tracks, through }) => {
    const elements = [block('Lead'), block('Tail')];
    const parts = [];
    const joins: string[] = [];
    for (const [side, lead, end] of [
      ['w', 'Lead.b', 'a'],
      ['e', 'Tail.a', 'b'],
    ] as const) {
      let open: string = lead;
      for (let track = 0; track < tracks; track++) {
        const last = track === tracks - 1;
        if (side === 'e' && !through) {
          parts.push(bufferStop(`End${track}`));
          joins.push(`Y${track}.b End${track}.a`);
        } else if (last) joins.push(`${open} Y${track}.${end}`);
        else {
          parts.push(turnout(`T${side}${track}`));
          joins.push(
            `${open} T${side}${track}.stem`,
            `T${side}${track}.diverging Y${track}.${end}`,
          );
          open = `T${side}${track}.straight`;
        }
      }
    }
    for (let track = 0; track < tracks; track++) elements.push(block(`Y${track}`));
    return { tracks, through, file: layoutOf([...elements, ...parts], joins) };
  });

const held = (layout: Layout, route: number): Set<number> =>
  new Set(
    layout.routes[route]?.steps.flatMap((step) => [
      step.element,
      ...step.gaps.map((gap) => gap.element),
    ]),
  );

describe('routes of any yard', () => {
  it('are all there, uniquely named, each with its way back', () => {
    fc.assert(
      fc.property(yards, ({ tracks, through, file }) => {
        const layout = compileLayout(file);
        expect(layout.routes).toHaveLength(tracks * (through ? 4 : 2));
        expect(new Set(layout.routes.map((it) => it.id)).size).toBe(layout.routes.length);
        for (const route of layout.routes) {
          const back = layout.routes.filter(
            (it) => it.from === (route.to ^ 1) && it.to === (route.from ^ 1),
          );
          expect(back).toHaveLength(1);
          expect(layout.routesFrom[route.from]).toContain(route.index);
        }
      }),
    );
  });

  it('keep their names when the file is written in another order', () => {
    fc.assert(
      fc.property(yards, fc.infiniteStream(fc.nat()), ({ file }, order) => {
        const shuffled = <T>(list: readonly T[]): T[] =>
          list
            .map((item) => ({ item, at: order.next().value ?? 0 }))
            .sort((left, right) => left.at - right.at)
            .map(({ item }) => item);
        const other = { ...file, elements: shuffled(file.elements), joins: shuffled(file.joins) };
        expect(routeIds(compileLayout(other))).toEqual(routeIds(compileLayout(file)));
      }),
    );
  });

  it('conflict exactly when they share an element', () => {
    fc.assert(
      fc.property(yards, ({ file }) => {
        const layout = compileLayout(file);
        for (const route of layout.routes) {
          const sharing = layout.routes
            .filter(
              (other) =>
                other !== route &&
                [...held(layout, other.index)].some((it) => held(layout, route.index).has(it)),
            )
            .map((other) => other.index);
          expect(route.conflicts).toEqual(sharing);
        }
      }),
    );
  });
});
