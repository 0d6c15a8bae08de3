import { describe, expect, it } from 'vitest';
import { compileLayout } from '../layout/compile-layout.js';
import { headingOf } from '../layout/layout.js';
import { compileStock } from '../stock/compile-stock.js';
import {
  block,
  bufferStop,
  layoutOf,
  passingLoop,
  station,
  turnout,
} from '../testing/layout-parts.js';
import { oneTrain } from '../testing/session-settings.js';
import { DistanceTables } from './distance-tables.js';
import { LegPlan } from './leg-plan.js';

const train = compileStock(oneTrain()).trains[0]!;

describe('the plan of a leg', () => {
  it('reaches over thousands of blocks', () => {
    const ids = Array.from({ length: 3000 }, (_, at) => `B${at}`);
    const layout = compileLayout(
      layoutOf(
        [bufferStop('W'), ...ids.map((id) => block(id)), bufferStop('E')],
        ['W.a B0.a', ...ids.slice(1).map((id, at) => `B${at}.b ${id}.a`), `${ids.at(-1)}.b E.a`],
        { stations: [station('West', 0, ['B0']), station('East', 2999, [ids.at(-1)!])] },
      ),
    );
    const at = (id: string): number => headingOf(layout.elementByName.get(id)!, 'b');
    const stop = {
      tracks: [{ name: '1', blocks: [layout.elementByName.get(ids.at(-1)!)!] }],
      stops: true,
      calls: [],
    };
    const plan = new LegPlan(new DistanceTables(layout), train, stop, null);
    expect(plan.hops(at('B0'))).toBe(2999);
    expect(plan.permitted(at('B0')).map((route) => layout.routes[route]!.to)).toEqual([at('B1')]);
    expect(plan.distance(at('B0'))).toBe(2999 * 1000);
  });

  it('asks first for the preferred track, then for the shortest way', () => {
    const layout = compileLayout(passingLoop());
    const blocks = (id: string) => [layout.elementByName.get(id)!];
    const from = headingOf(layout.elementByName.get('W')!, 'b');
    for (const order of [
      ['M', 'S'],
      ['S', 'M'],
    ]) {
      const tracks = order.map((id) => ({ name: id, blocks: blocks(id) }));
      const stop = { tracks, stops: true, calls: [] };
      const plan = new LegPlan(new DistanceTables(layout), train, stop, null);
      const to = plan.permitted(from).map((route) => layout.routes[route]!.to >> 1);
      expect(to).toEqual(order.flatMap(blocks));
      expect(plan.hops(from)).toBe(1);
    }
  });

  it('leads into a track of many slots as well as into one that ends nearer', () => {
    const layout = compileLayout(
      layoutOf(
        [
          ...['L', 'D1', 'D2', 'D3', 'N'].map((id) => block(id)),
          turnout('T'),
          ...['W', 'E', 'S'].map((id) => bufferStop(id)),
        ],
        [
          'W.a L.a',
          'L.b T.stem',
          'T.diverging N.a',
          'N.b S.a',
          'T.straight D1.a',
          'D1.b D2.a',
          'D2.b D3.a',
          'D3.b E.a',
        ],
        { stations: [station('Home', 0, ['L'])] },
      ),
    );
    const at = (id: string): number => headingOf(layout.elementByName.get(id)!, 'b');
    const tracks = [['D1', 'D2', 'D3'], ['N']].map((ids) => ({
      name: ids[0]!,
      blocks: ids.map((id) => layout.elementByName.get(id)!),
    }));
    const plan = new LegPlan(
      new DistanceTables(layout),
      train,
      { tracks, stops: true, calls: [] },
      null,
    );
    const from = (id: string): number[] =>
      plan.permitted(at(id)).map((route) => layout.routes[route]!.to);
    expect(from('L')).toEqual([at('D1'), at('N')]);
    expect(from('D1')).toEqual([at('D2')]);
    expect(from('D2')).toEqual([at('D3')]);
    expect(plan.hops(at('L'))).toBe(1);
  });
});
