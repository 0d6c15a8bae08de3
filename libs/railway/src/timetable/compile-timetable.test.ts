import { describe, expect, it } from 'vitest';
import { compileLayout } from '../layout/compile-layout.js';
import { headingOf } from '../layout/layout.js';
import { compileStock } from '../stock/compile-stock.js';
import { edited, elementOf, indexOf } from '../testing/edit.js';
import { passingLoop } from '../testing/layout-parts.js';
import { twoTrains } from '../testing/stock-parts.js';
import { meet } from '../testing/timetable-parts.js';
import { mm } from '../units.js';
import { compileTimetable } from './compile-timetable.js';

const layout = compileLayout(passingLoop());
const stock = compileStock(twoTrains());
const timetable = compileTimetable(meet(), layout, stock);

describe('compileTimetable', () => {
  it('resolves workings and stored places by train', () => {
    expect(timetable.workings.map((it) => it?.services)).toEqual([[0, 1], [2]]);
    expect(timetable.storedPlaces).toEqual([
      headingOf(indexOf(layout, 'W'), 'b'),
      headingOf(indexOf(layout, 'E'), 'b'),
    ]);
    expect(timetable).toMatchObject({ start: 9 * 3_600_000, end: 13 * 3_600_000, ratio: 6 });
  });

  it('reads times, and lets a pass arrive when it departs', () => {
    const [begin, loop] = timetable.services[0]?.calls ?? [];
    expect(begin).toMatchObject({ arrive: null, depart: 36_000_000, stops: true });
    expect(loop).toMatchObject({ arrive: 36_300_000, depart: 36_420_000, stops: true });
    expect(timetable.services[1]?.calls[1]).toMatchObject({
      arrive: 38_100_000,
      depart: 38_100_000,
      stops: false,
      dwellFast: 0,
      dwellReal: 0,
    });
  });

  it('has a least dwell, the planner’s own or the usual', () => {
    const file = edited(meet(), (it) => {
      it.services[0]!.calls[1]!.dwell = { fast: 90, real: 8 };
    });
    const { services } = compileTimetable(file, layout, stock);
    expect(services[0]?.calls[1]).toMatchObject({ dwellFast: 90_000, dwellReal: 8_000 });
    expect(services[0]?.calls[0]).toMatchObject({ dwellFast: 30_000, dwellReal: 3_000 });
  });

  it('offers the tracks named, or all that hold the train', () => {
    expect(timetable.services[0]?.calls[1]?.tracks.map((it) => it.name)).toEqual(['1', '2']);
    expect(timetable.services[2]?.calls[1]?.tracks).toEqual([
      { name: '2', blocks: [indexOf(layout, 'S')] },
    ]);
    const short = compileLayout(
      edited(passingLoop(), (file) => {
        elementOf(file, 'S', 'block').detection[0]!.length = mm(800);
      }),
    );
    const { services } = compileTimetable(meet(), short, stock);
    expect(services[0]?.calls[1]?.tracks.map((it) => it.name)).toEqual(['1']);
    expect(services[1]?.calls[1]?.tracks.map((it) => it.name)).toEqual(['1', '2']);
  });

  it('resolves connections', () => {
    const file = edited(meet(), (it) => {
      it.connections.push({ from: 'G1', to: 'P1', station: 'Loop', transfer: 60, holdAtMost: 300 });
    });
    expect(compileTimetable(file, layout, stock).connections[0]).toMatchObject({
      from: 2,
      to: 0,
      station: 1,
      transfer: 60_000,
      holdAtMost: 300_000,
    });
  });
});
