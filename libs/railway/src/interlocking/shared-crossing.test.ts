import { describe, expect, it } from 'vitest';
import {
  block,
  bufferStop,
  crossing,
  detection,
  layoutOf,
  slip,
  station,
} from '../testing/layout-parts.js';
import { MirrorTraffic } from '../testing/mirror-traffic.js';
import { SessionDriver } from '../testing/session-driver.js';
import { locomotive, stockOf, train } from '../testing/stock-parts.js';
import { call, service, timetableOf } from '../testing/timetable-parts.js';

const BLOCKS = ['A', 'B', 'C', 'D'] as const;
/** When both are booked to leave, ms. */
const DEPARTURE = 12_600;

const divided = (id: string): ReturnType<typeof block> => {
  const name = id.toLowerCase();
  return block(id, 1200, {
    detection: detection([`${name}1`, 300], [`${name}2`, 600], [`${name}3`, 300]),
  });
};

/** P stands in A and Q in B, both towards the crossing K; P is booked to C, Q to C or D. */
function towardsK(kind: 'crossing' | 'double-slip', to: 'C' | 'D'): SessionDriver {
  const layout = layoutOf(
    [
      ...BLOCKS.flatMap((id) => [bufferStop(`X${id}`), divided(id)]),
      kind === 'crossing' ? crossing('K') : slip('K', 'double-slip'),
    ],
    [...BLOCKS.map((id) => `X${id}.a ${id}.a`), 'A.b K.a', 'B.b K.b', 'C.b K.c', 'D.b K.d'],
    { stations: [station('West', 0, ['A'], ['B']), station('East', 2, ['C'], ['D'])] },
  );
  const stock = stockOf(
    [locomotive('L1', 3), locomotive('L2', 4)],
    [],
    [train('P', 'L1'), train('Q', 'L2')],
  );
  const run = (id: string, from: string, track: string) =>
    service(
      id,
      call('West - 09:01', { tracks: [from] }),
      call('East 10:30 -', { tracks: [track] }),
    );
  const timetable = timetableOf(
    [run('P1', 't1', to === 'C' ? 't2' : 't1'), run('Q1', 't2', to === 'C' ? 't1' : 't2')],
    { P: 'P1', Q: 'Q1' },
    { P: 'A>b', Q: 'B>b' },
  );
  const driver = new SessionDriver(layout, stock, timetable);
  driver.lineUp('a3', 'b3');
  driver.report('a3', 3);
  driver.report('b3', 4);
  expect(driver.command({ kind: 'start' })).toBe(null);
  driver.runTo(DEPARTURE);
  return driver;
}

const throwsOf = (driver: SessionDriver): unknown[] =>
  driver.sent.flatMap(({ command }) =>
    command.kind === 'set-drive' && command.element === driver.elementIndex('K')
      ? [command.position]
      : [],
  );

describe.each(['crossing', 'double-slip'] as const)('over a %s', (kind) => {
  it('runs one train at a time, though their ways share no port', () => {
    const driver = towardsK(kind, 'D');
    expect(driver.path('P')).toEqual(['A', 'K', 'C']);
    expect(driver.path('Q')).toEqual(['B']);
    expect(driver.train('Q').wait).toEqual({
      kind: 'element-held',
      element: driver.elementIndex('K'),
      by: 0,
    });
  });

  it('lets the second go when the tail of the first is proven clear of it', () => {
    const driver = towardsK(kind, 'D');
    const traffic = new MirrorTraffic(driver);
    while (driver.element('K').holder === 0) traffic.runTo(driver.now + 100);
    expect(driver.train('P').tail).toBeGreaterThanOrEqual(1200 + 200 + 70);
    traffic.runTo(driver.now + 60_000);
    expect(driver.path('Q').at(-1)).toBe('D');
  });
});

describe('a double slip', () => {
  it('that lies right for both is not thrown between them', () => {
    const driver = towardsK('double-slip', 'D');
    new MirrorTraffic(driver).runTo(120_000);
    expect(driver.path('Q')).toEqual(['D']);
    expect(throwsOf(driver)).toEqual(['cross']);
  });

  it('is set to its curves for trains that go from one line to the other', () => {
    const driver = towardsK('double-slip', 'C');
    const traffic = new MirrorTraffic(driver);
    expect(driver.path('P')).toEqual(['A', 'K', 'D']);
    expect(driver.element('K').position).toBe('slip');
    traffic.runTo(120_000);
    expect(driver.path('Q')).toEqual(['C']);
    expect(throwsOf(driver)).toEqual(['slip']);
  });
});
