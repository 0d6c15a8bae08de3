import { describe, expect, it } from 'vitest';
import { compileLayout } from '../layout/compile-layout.js';
import type { LayoutFile } from '../layout/layout-file.js';
import { limitsAhead } from '../movement/limits.js';
import { command, standing } from '../movement/reckoning.js';
import { setDeadline } from '../session/deadlines.js';
import { Writer } from '../session/writer.js';
import { edited, elementOf, mutable, routeOf } from '../testing/edit.js';
import { MirrorTraffic } from '../testing/mirror-traffic.js';
import {
  block,
  bufferStop,
  detection,
  layoutOf,
  station,
  turnout,
} from '../testing/layout-parts.js';
import { SessionDriver, THROW } from '../testing/session-driver.js';
import { dividedLoop, line, runningCrossing, runningLine } from '../testing/session-settings.js';
import { locomotive, stockOf, train } from '../testing/stock-parts.js';
import { service, timetableOf } from '../testing/timetable-parts.js';
import { instant, mm, mmPerS, um } from '../units.js';
import { extendAuthority, setLimits } from './authority.js';
import { giveBackAhead } from './give-back.js';
import { routeItems } from './held-path.js';
import { freeOverlap } from './overlap.js';

/** The passing loop, with an overlap beyond the east end of M, and as long as told. */
const withOverlap = (length = 200): LayoutFile =>
  edited(dividedLoop(), (file) => {
    elementOf(file, 'M', 'block').overlap = { b: length };
  });

/** G is kept in E; P leaves W for M when booked. */
function toM(length?: number): SessionDriver {
  const driver = runningCrossing(withOverlap(length));
  driver.command({ kind: 'hold-train', train: 1, hold: true });
  driver.runTo(52_600);
  return driver;
}

/**
 * P runs from A over T to B, and X protects it; beyond C lies X too, and straight on over it an overlap of C:
 *
 *     E – C – X – T – A
 *            D   B
 */
function runningBesideFlank(): SessionDriver {
  const layout = layoutOf(
    [
      ...['ZA', 'ZB', 'ZD', 'ZE'].map(bufferStop),
      ...['A', 'B', 'D', 'E'].map((id) => block(id)),
      block('C', 1000, { overlap: { b: mm(200) } }),
      turnout('T'),
      turnout('X'),
    ],
    [
      'ZE.a E.a',
      'E.b C.a',
      'C.b X.stem',
      'X.diverging D.a',
      'D.b ZD.a',
      'X.straight T.straight',
      'T.stem A.b',
      'A.a ZA.a',
      'T.diverging B.a',
      'B.b ZB.a',
    ],
    {
      stations: [
        station('West', 0, ['A']),
        station('East', 2, ['B']),
        station('North', 4, ['E']),
        station('Mid', 5, ['C']),
      ],
    },
  );
  const stock = stockOf(
    [locomotive('L1', 3), locomotive('L2', 4)],
    [],
    [train('P', 'L1'), train('Q', 'L2')],
  );
  const timetable = timetableOf(
    [service('P1', 'West - 09:01', 'East 10:30 -'), service('Q1', 'North - 09:01', 'Mid 10:30 -')],
    { P: 'P1', Q: 'Q1' },
    { P: 'A>b', Q: 'E>b' },
  );
  const driver = new SessionDriver(layout, stock, timetable);
  driver.lineUp('s-A', 's-E');
  driver.report('s-A', 3);
  driver.report('s-E', 4);
  expect(driver.command({ kind: 'hold-train', train: 1, hold: true })).toBe(null);
  expect(driver.command({ kind: 'start' })).toBe(null);
  return driver;
}

describe('the overlap of a block', () => {
  it('is the elements that its length reaches into, straight on', () => {
    const ids = (length: number): string[] => {
      const layout = compileLayout(withOverlap(length));
      const heading = layout.elementByName.get('M')! * 2;
      return layout.overlaps[heading]!.map(({ element }) => layout.elements[element]!.id);
    };
    expect(ids(200)).toEqual(['TE']);
    expect(ids(231)).toEqual(['TE', 'E']);
    expect(compileLayout(dividedLoop()).overlaps.flat()).toEqual([]);
  });

  it('is locked and set with the way, and awaited before there is authority', () => {
    const driver = toM();
    expect(driver.path('P')).toEqual(['W', 'TW', 'M']);
    expect(driver.element('TE')).toMatchObject({ holder: -1, overlapFor: 0, position: 'straight' });
    driver.wait(THROW - 1);
    expect(driver.train('P').authorised).toBe(0);
    driver.wait(1);
    expect(driver.train('P').authorised).toBe(2);
  });

  it('keeps a train without authority while a turnout of it is not proven', () => {
    const driver = runningCrossing(withOverlap());
    driver.command({ kind: 'hold-train', train: 1, hold: true });
    driver.stuck.add(driver.elementIndex('TE'));
    driver.runTo(52_600 + THROW);
    expect(driver.element('TW').proof).toBe('proven');
    expect(driver.train('P').authorised).toBe(0);
    driver.drive('TE', 'straight');
    expect(driver.train('P').authorised).toBe(2);
  });

  it('is given back with the way when a turnout of it fails, which is then tried again', () => {
    const driver = runningCrossing(withOverlap());
    driver.command({ kind: 'hold-train', train: 1, hold: true });
    const turnout = driver.elementIndex('TE');
    driver.stuck.add(turnout);
    driver.runTo(52_600 + 3 * THROW + 1000);
    expect(driver.element('TE')).toMatchObject({ proof: 'failed', overlapFor: -1 });
    expect(driver.path('P')).not.toContain('M');
    driver.stuck.delete(turnout);
    driver.wait(10_000);
    expect(driver.element('TE').proof).toBe('proven');
  });

  it('is proven again after a restart: what its turnout says itself is no throwing by hand', () => {
    const driver = toM();
    driver.wait(THROW + 100);
    driver.feed({ at: driver.now, kind: 'started-again' });
    driver.wait(1000);
    driver.lineUp('w2', 'w3', 'e1', 'e2');
    expect(driver.element('TE')).toMatchObject({ overlapFor: 0, proof: 'proven' });
    expect(driver.train('P').activity.kind).toBe('standing');
  });

  it('lets nobody else a way over it, and frees when the train stands at its mark', () => {
    const driver = toM();
    driver.command({ kind: 'hold-train', train: 1, hold: false });
    driver.wait(THROW + 1000);
    expect(driver.path('G')).toEqual(['E']);
    expect(driver.train('G').wait).toEqual({
      kind: 'element-held',
      element: driver.elementIndex('TE'),
      by: 0,
    });
    new MirrorTraffic(driver).runTo(driver.now + 60_000);
    expect(driver.element('TE').overlapFor).toBe(-1);
    expect(driver.path('G')).not.toEqual(['E']);
  });

  it('must be clear of trains before a way ends there', () => {
    const driver = toM(300);
    expect(driver.path('P')).not.toContain('M');
    expect(driver.element('TE').overlapFor).toBe(-1);
  });

  it('frees when the way is given back', () => {
    const driver = toM();
    driver.command({ kind: 'give-back-route', train: 0 });
    driver.wait(8000);
    expect(driver.path('P')).toEqual(['W']);
    expect(driver.element('TE').overlapFor).toBe(-1);
    expect(driver.train('P').overlap).toEqual([]);
  });

  it('stops the train when its turnout is thrown by hand', () => {
    const driver = toM();
    driver.wait(THROW + 100);
    driver.drive('TE', 'diverging');
    expect(driver.train('P').activity).toEqual({
      kind: 'halted',
      why: 'TE beside its way was thrown by hand to diverging',
    });
  });

  it('waits for a turnout that protects the way of another train', () => {
    const driver = runningBesideFlank();
    driver.runTo(12_600 + THROW);
    expect(driver.path('P')).toEqual(['A', 'T', 'B']);
    expect(driver.train('P').authorised).toBe(2);
    expect(driver.element('X')).toMatchObject({ position: 'diverging', flankFor: [0] });
    driver.command({ kind: 'hold-train', train: 1, hold: false });
    driver.wait(THROW);
    expect(driver.element('X')).toMatchObject({ position: 'diverging', overlapFor: -1 });
    expect(driver.path('Q')).toEqual(['E']);
    expect(driver.train('Q').wait).toEqual({
      kind: 'element-held',
      element: driver.elementIndex('X'),
      by: 0,
    });
  });

  it('stays locked while a train that stands is still to draw up to its mark', () => {
    const stations = [station('West', 0, ['A']), station('East', 3, ['C'])];
    const marked = edited(line({ stations }), (file) => {
      const last = elementOf(file, 'C', 'block');
      last.detection = mutable(detection(['c1', 900], ['c2', 100]));
      last.overlap = { b: mm(200) };
    });
    const driver = runningLine(marked);
    const locked: number[] = [];
    new MirrorTraffic(driver).runTo(120_000, () => {
      const { edge, activity, path } = driver.train('T');
      if (path.at(-1)!.element !== driver.elementIndex('C') || edge !== 2000) return;
      if (activity.kind === 'standing') locked.push(driver.element('D').overlapFor);
    });
    expect(locked.length).toBeGreaterThan(0);
    expect(new Set(locked)).toEqual(new Set([0]));
    expect(driver.train('T')).toMatchObject({ edge: 2900, activity: { kind: 'standing' } });
    expect(driver.element('D').overlapFor).toBe(-1);
  });

  it('turns into the way when that leads on', () => {
    const driver = runningLine(
      edited(line(), (file) => {
        elementOf(file, 'B', 'block').overlap = { b: mm(100) };
      }),
    );
    driver.wait(10_300);
    expect(driver.path('T')).toEqual(['A', 'B', 'C']);
    expect(driver.train('T').overlap).toEqual([]);
    expect(driver.element('C')).toMatchObject({ holder: 0, overlapFor: -1 });
  });
});

describe('a train whose overlap is lost', () => {
  /** P under way to M with authority; TE is thrown by hand, which stops it short of its mark. */
  function thrown(): SessionDriver {
    const driver = toM();
    driver.wait(THROW + 100);
    driver.stuck.add(driver.elementIndex('TE'));
    driver.drive('TE', 'diverging');
    driver.wait(4000);
    expect(driver.train('P').activity.kind).toBe('halted');
    return driver;
  }

  const restricted = (driver: SessionDriver): boolean => {
    const w = new Writer(driver.world, driver.state, driver.now, 0);
    return limitsAhead(w, 0).some(({ speed }) => speed === driver.world.restrictedSpeed);
  };

  it('has its failed turnout commanded again once it stands, where it is locked', () => {
    const driver = thrown();
    driver.stuck.clear();
    const sent = driver.sent.length;
    driver.wait(7000);
    expect(driver.sentSince(sent)).toContainEqual({
      kind: 'set-drive',
      element: driver.elementIndex('TE'),
      position: 'straight',
    });
    expect(driver.element('TE')).toMatchObject({ proof: 'proven', overlapFor: 0 });
    expect(restricted(driver)).toBe(false);
  });

  it('has it not commanded while it may still overrun its mark', () => {
    const driver = toM();
    driver.wait(THROW + 100);
    driver.drive('TE', 'diverging');
    driver.train('P').reckoning = command(
      driver.world.models[0]!,
      driver.train('P').reckoning,
      mmPerS(100),
      instant(driver.now),
    );
    setDeadline(driver.state, 'stand', 0, driver.now + 60_000);
    const sent = driver.sent.length;
    driver.wait(11_000);
    expect(driver.sentSince(sent).filter(({ kind }) => kind === 'set-drive')).toEqual([]);
  });

  it('goes on at restricted speed where its way ends, when a person lets it', () => {
    const driver = thrown();
    expect(restricted(driver)).toBe(true);
    expect(driver.command({ kind: 'release-train', train: 0 })).toBe(null);
    expect(restricted(driver)).toBe(true);
  });

  it('gets it back with a way given back, though it stands, if it is short of its mark', () => {
    const driver = runningCrossing(
      edited(dividedLoop(), (file) => {
        elementOf(file, 'W', 'block').overlap = { b: mm(200) };
      }),
    );
    driver.command({ kind: 'hold-train', train: 1, hold: true });
    driver.runTo(52_600 + THROW + 100);
    driver.command({ kind: 'stop-all' });
    driver.wait(4000);
    const { state, world, now } = driver;
    const train = driver.train('P');
    train.authorised = 0;
    setLimits(new Writer(world, state, now, 0), 0);
    train.reckoning = standing({ low: um(500_000), high: um(500_000) }, um(500_000), instant(now));
    const w = new Writer(world, state, now, 0);
    giveBackAhead(w, 0);
    expect(driver.path('P')).toEqual(['W']);
    expect(driver.element('TW')).toMatchObject({ holder: -1, overlapFor: 0 });
    expect(w.followUps).toContainEqual({ kind: 'control', train: 0 });
  });
});

describe('authority that ends before the way does', () => {
  it('needs the way beyond proven as far as the overlap would reach', () => {
    const driver = runningCrossing(
      edited(dividedLoop(), (file) => {
        elementOf(file, 'M', 'block').overlap = { b: mm(200) };
      }),
    );
    driver.command({ kind: 'hold-train', train: 1, hold: true });
    driver.runTo(52_600);
    const { state, world, now } = driver;
    const w = new Writer(world, state, now, 0);
    // The way leads on from M over TE, held but not proven yet.
    driver.element('TW').proof = 'proven';
    driver.element('TE').proof = 'moving';
    freeOverlap(w, 0);
    driver
      .train('P')
      .path.push(...routeItems(world.layout, routeOf(world.layout, 'M>E').index, 2930));
    extendAuthority(w, 0);
    expect(driver.train('P').authorised).toBe(0);
    driver.element('TE').proof = 'proven';
    extendAuthority(w, 0);
    expect(driver.train('P').authorised).toBeGreaterThanOrEqual(2);
  });
});
