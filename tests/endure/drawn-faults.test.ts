import { endureCase, FaultDrawer, RATES, runSession, type FaultRates } from '@blockbell/rehearsal';
import type { Fault } from '@blockbell/simulation';
import { expect, it } from 'vitest';
import { exampleRailway } from '../support/railways.js';

const demo = exampleRailway('demo');
const TIMEOUT = 120_000;
const NEVER = RATES.none;

/** A session of the demo with faults drawn at the rates: what was drawn, how often it could have been, and its end. */
function draw(rates: FaultRates, seed: number, faults: readonly Fault[] = []) {
  const drawers: FaultDrawer[] = [];
  const session = runSession({ ...demo, seed, faults }, undefined, (rehearsal) =>
    drawers.push(new FaultDrawer(rehearsal, rates, seed)),
  );
  for (;;) {
    const { done, value } = session.next();
    if (done === true) return { drawer: drawers[0]!, report: value };
  }
}

it(
  'faults come as often as their rates say',
  () => {
    const { drawer, report } = draw(
      { ...NEVER, dropouts: 30, lostReports: 20, misreads: 2, stuckDrives: 6, stalls: 3 },
      3,
    );
    const count = (kind: Fault['kind']): number =>
      drawer.script.filter((fault) => fault.kind === kind).length;
    const shares = {
      dropout: (count('dropout') / drawer.edges) * 1000,
      lost: (count('lost') / drawer.edges) * 1000,
      'stuck-drive': (count('stuck-drive') / drawer.throws) * 300,
      stall: (count('stall') / report.services.planned) * 25,
    };
    expect(drawer.edges).toBeGreaterThan(4000);
    expect(Math.abs(shares.dropout - 30)).toBeLessThan(6);
    expect(Math.abs(shares.lost - 20)).toBeLessThan(5);
    expect(Math.abs(shares['stuck-drive'] - 6)).toBeLessThan(4);
    expect(Math.abs(shares.stall - 3)).toBeLessThan(2.5);
    expect(count('misread')).toBeGreaterThan(0);
  },
  TIMEOUT,
);

it(
  'dropouts happen where something stands, and last as long as said',
  () => {
    const { drawer } = draw({ ...NEVER, dropouts: 50, longDropouts: 10 }, 5);
    const spans = drawer.script.flatMap((fault) =>
      fault.kind === 'dropout' && fault.duration !== null ? [fault.duration] : [],
    );
    expect(spans).toHaveLength(drawer.script.length);
    expect(spans.filter((span) => span > 800).length).toBeGreaterThan(20);
    expect(
      spans.every((span) => (span >= 50 && span <= 800) || (span >= 1000 && span <= 8000)),
    ).toBe(true);
  },
  TIMEOUT,
);

it.each([1, 2, 3])(
  'the faults as written down bring about the same session, seed %i',
  (seed) => {
    const rates = {
      ...NEVER,
      dropouts: 20,
      lostReports: 10,
      misreads: 1,
      stuckDrives: 3,
      stalls: 2,
    };
    const drawn = draw(rates, seed);
    const scripted = draw(NEVER, seed, drawn.drawer.script);
    expect(drawn.drawer.script.length).toBeGreaterThan(50);
    expect(scripted.report).toEqual(drawn.report);
  },
  TIMEOUT,
);

it('a session follows from its request alone; every fifth is the demo, and shares of decoders are silent', () => {
  for (const number of [0, 1, 5, 7]) {
    const request = { seed: 11, number, level: 'mixed', silent: 50 } as const;
    const one = endureCase(request, demo);
    expect(endureCase(request, demo)).toEqual(one);
    expect(one.isDemo).toBe(number % 5 === 0);
    const { locomotives, trains } = one.stock;
    const silent = locomotives.filter(({ answers }) => !answers).length;
    expect(Math.abs(silent - locomotives.length / 2)).toBeLessThanOrEqual(0.5);
    expect(trains.length).toBeGreaterThanOrEqual(6);
    expect(one.timetable.services.length).toBeGreaterThanOrEqual(20);
  }
});
