import { compileLayout, compileStock } from '@blockbell/railway';
import { ms } from '@blockbell/railway/track';
import { describe, expect, it } from 'vitest';
import { passingLoop } from '../test-support/layouts.js';
import { openRig } from '../test-support/rig.js';
import { address, locomotive, stockOf, train } from '../test-support/stock.js';
import type { Fault } from './fault.js';

const layout = compileLayout(passingLoop());
const stock = compileStock(stockOf([train(1, [{ car: 'coach', count: 2 }])], [locomotive(1)]));
const section = (id: string): number => layout.sectionByName.get(id)!;
/** Long enough on the way from west through main that every section there is passed. */
const END = 22_000;

const run = (faults: readonly Fault[], seed = 1, on = layout) => {
  const rig = openRig({ layout: on, stock, places: [['west', 'b']], seed, faults });
  rig.run(1, 80);
  rig.until(END);
  return rig;
};
const plain = run([]);
const at = (edges: readonly (readonly [number, boolean])[], occupied: boolean): number =>
  edges.find((edge) => edge[0] > 200 && edge[1] === occupied)![0];

describe('a dropout', () => {
  it('reads free though occupied, then occupied again; the truth stays', () => {
    const from = at(plain.edges('main-2'), true) + 1000;
    const rig = openRig({
      layout,
      stock,
      places: [['west', 'b']],
      faults: [{ kind: 'dropout', section: section('main-2'), at: from, duration: 700 }],
    });
    rig.run(1, 80);
    rig.until(from + 300);
    expect(rig.simulated.truth.section(section('main-2')).occupied).toBe(true);
    rig.until(END);
    const [, entered, dropped, back, left] = rig.edges('main-2');
    expect([entered![1], dropped![1], back![1], left![1]]).toEqual([true, false, true, false]);
    expect(dropped![0] - from).toBeLessThanOrEqual(200);
    expect(back![0] - from - 700).toBeLessThanOrEqual(60);
  });
});

describe('a stuck detector', () => {
  it('reads occupied with nothing there, until it is mended', () => {
    const rig = openRig({ layout, stock, places: [['west', 'b']] });
    const fault = rig.simulated.injectFault({
      kind: 'stuck-detector',
      section: section('siding-1'),
      at: 1000,
      duration: null,
    });
    rig.until(60_000);
    expect(rig.edges('siding-1').map((edge) => edge[1])).toEqual([false, true]);
    rig.simulated.mend(fault, 60_000);
    rig.until(61_000);
    expect(rig.edges('siding-1').map((edge) => edge[1])).toEqual([false, true, false]);
    expect(rig.simulated.truth.faults[fault]).toMatchObject({ active: false, ended: true });
  });

  it('stays occupied when a train leaves', () => {
    const rig = run([
      { kind: 'stuck-detector', section: section('main-2'), at: 5000, duration: null },
    ]);
    expect(rig.edges('main-2').map((edge) => edge[1])).toEqual([false, true]);
  });
});

describe('messages', () => {
  const all = { at: 0, duration: null, section: null } as const;

  it('late: up to so much later than the worst, still in order', () => {
    const rig = run([{ ...all, kind: 'late', messages: 'edges', by: 1000 }]);
    const sections = ['points-w', 'main-1', 'main-2'];
    const delays = sections.map((id) => at(rig.edges(id), true) - at(plain.edges(id), true));
    expect(Math.max(...delays)).toBeGreaterThan(60);
    for (const delay of delays) expect(delay).toBeLessThanOrEqual(1000);
    for (const id of sections)
      expect(rig.edges(id).map((edge) => edge[1])).toEqual([false, true, false]);
    expect(rig.reports('main-2')).toEqual(plain.reports('main-2'));
  });

  it('late in one section only', () => {
    const rig = run([
      { ...all, kind: 'late', messages: 'both', by: 2000, section: section('main-2') },
    ]);
    expect(rig.edges('main-1')).toEqual(plain.edges('main-1'));
    expect(rig.edges('main-2')).not.toEqual(plain.edges('main-2'));
  });

  it('lost: all reports of a section, for as long as it lasts, and no edge', () => {
    const rig = run([
      {
        kind: 'lost',
        messages: 'reports',
        permille: 1000,
        section: section('main-2'),
        at: 0,
        duration: 60_000,
      },
    ]);
    expect(plain.reports('main-2')).toHaveLength(2);
    expect(rig.reports('main-2')).toEqual([]);
    expect(rig.edges('main-2')).toEqual(plain.edges('main-2'));
  });

  it('lost: about half of them', () => {
    let [sent, came] = [0, 0];
    for (let seed = 0; seed < 30; seed += 1) {
      sent += run([], seed).events('report').length;
      came += run([{ ...all, kind: 'lost', messages: 'reports', permille: 500 }], seed).events(
        'report',
      ).length;
    }
    expect(came / sent).toBeGreaterThan(0.4);
    expect(came / sent).toBeLessThan(0.6);
  });

  it('duplicated: each twice, otherwise the same', () => {
    const rig = run([{ ...all, kind: 'duplicated', messages: 'both', permille: 1000, at: 3000 }]);
    expect(rig.edges('main-2').map((edge) => edge[1])).toEqual([false, true, true, false, false]);
    expect(rig.reports('main-2').map((report) => report[1])).toEqual([[1], [1], [], []]);
  });

  it('reordered: a quick message overtakes a slow one, which otherwise never happens', () => {
    // The section is passed by one axle group in less time than its worst delay.
    const slow = compileLayout(
      passingLoop({ worstDelay: { occupied: ms(9000), free: ms(9000), report: ms(150) } }),
    );
    const orders = (fault: boolean): Set<string> => {
      const found = new Set<string>();
      for (let seed = 0; seed < 30; seed += 1) {
        const rig = run(
          fault ? [{ ...all, kind: 'reordered', messages: 'both', at: 300 }] : [],
          seed,
          slow,
        );
        found.add(
          JSON.stringify(
            rig
              .edges('points-w')
              .filter((edge) => edge[0] > 300)
              .map((edge) => edge[1]),
          ),
        );
      }
      return found;
    };
    expect(orders(false)).toEqual(new Set(['[true,false]']));
    expect(orders(true)).toEqual(new Set(['[true,false]', '[false,true]']));
  });
});

describe('decoders', () => {
  it('one falls silent while it is there: an empty report, though the section stays occupied', () => {
    const from = at(plain.edges('main-2'), true) + 1000;
    const rig = run([{ kind: 'silent-decoder', address: address(1), at: from, duration: null }]);
    expect(rig.reports('main-2').map((report) => report[1])).toEqual([[1], []]);
    expect(rig.reports('main-2')[1]![0] - from).toBeLessThanOrEqual(150);
    expect(rig.reports('points-e')).toEqual([]);
    expect(rig.edges('points-e')).toEqual(plain.edges('points-e'));
  });

  it('misread: another decoder’s address, then the right one again', () => {
    const from = at(plain.edges('main-2'), true) + 1000;
    const rig = run([
      { kind: 'misread', section: section('main-2'), as: address(42), at: from, duration: 800 },
    ]);
    expect(rig.reports('main-2').map((report) => report[1])).toEqual([[1], [42], [1], []]);
  });
});

describe('a bus', () => {
  it('falls silent: nothing comes, the silence is noticed in its time, its return told with the state of all sections', () => {
    const rig = run([{ kind: 'bus-silence', bus: 'bus', at: 4000, duration: 5000 }]);
    const during = rig.said.filter((it) => it.at > 4000 && it.at <= 9000);
    expect(during.map(({ event }) => event)).toEqual([{ kind: 'bus', bus: 'bus', alive: false }]);
    expect(during[0]!.at).toBeLessThanOrEqual(6000);
    const back = rig.said.filter((it) => it.at > 9000 && it.at <= 9100);
    expect(back[0]!.event).toEqual({ kind: 'bus', bus: 'bus', alive: true });
    const told = back.flatMap(({ event }) => (event.kind === 'section' ? [event.section] : []));
    expect(new Set(told).size).toBe(layout.sections.length);
  });

  it('silent shorter than it takes to notice may go unnoticed; the sections tell their state all the same', () => {
    const rig = openRig({
      layout,
      stock,
      places: [['west', 'b']],
      faults: [{ kind: 'bus-silence', bus: 'bus', at: 4000, duration: 1 }],
    });
    rig.until(8000);
    expect(rig.events('bus')).toHaveLength(1);
    expect(rig.events('section').filter((it) => it.at > 4000)).toHaveLength(layout.sections.length);
  });
});
