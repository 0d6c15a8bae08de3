import { describe, expect, it } from 'vitest';
import { piecesOf } from '../interlocking/held-path.js';
import { furthestHead } from '../movement/train-motion.js';
import { bufferStop, block, layoutOf, station } from '../testing/layout-parts.js';
import { SessionDriver } from '../testing/session-driver.js';
import {
  crossing,
  dividedLoop,
  linedUpCrossing,
  runningCrossing,
  runningLine,
} from '../testing/session-settings.js';
import { locomotive, stockOf, train, twoTrains } from '../testing/stock-parts.js';
import { timetableOf } from '../testing/timetable-parts.js';

const fresh = (): SessionDriver => new SessionDriver(dividedLoop(), twoTrains(), crossing());

/** Power is raised; before detection settles these decoders are read. */
function lineUpWith(
  driver: SessionDriver,
  occupied: string[],
  reports: readonly (readonly [string, number])[],
): void {
  driver.command({ kind: 'power-up' });
  driver.wait(100);
  for (const { id } of driver.world.layout.sections) {
    if (occupied.includes(id)) driver.occupied(id);
    else driver.free(id);
  }
  for (const [section, number] of reports) driver.report(section, number);
  driver.wait(2500);
}

const confirm = (driver: SessionDriver, train: string, place: string): string | null =>
  driver.command({
    kind: 'confirm-place',
    train: driver.trainIndex(train),
    heading: driver.heading(place),
  });

describe('the line-up', () => {
  it('begins with every decoder at rest and every district raised', () => {
    const driver = fresh();
    driver.command({ kind: 'power-up' });
    expect(driver.sent.map(({ command }) => command)).toEqual([
      { kind: 'set-speed', address: { kind: 'short', number: 3 }, forward: true, step: 0 },
      { kind: 'set-speed', address: { kind: 'short', number: 12 }, forward: true, step: 0 },
      { kind: 'set-power', district: 0, on: true },
    ]);
    expect(driver.command({ kind: 'start' })).toBe('not-settled');
  });

  it('takes over what decoders confirm and asks for silent trains', () => {
    const driver = fresh();
    lineUpWith(driver, ['w2', 'e2'], [['w2', 3]]);
    expect(driver.row('P')).toMatchObject({ status: 'confirmed' });
    expect(driver.train('P').identity.certainty).toBe('reported');
    expect(driver.row('G')).toMatchObject({
      status: 'ask',
      text: 'Something stands there; its decoder never answers. Look and say.',
    });
    expect(driver.command({ kind: 'start' })).toBe('open-questions');
    expect(confirm(driver, 'G', 'E>b')).toBe(null);
    expect(driver.train('G').identity.certainty).toBe('declared');
    expect(driver.command({ kind: 'start' })).toBe(null);
  });

  it('takes over a decoder that answers only after detection has settled', () => {
    const driver = fresh();
    driver.lineUp('w2', 'e2');
    driver.report('w2', 3);
    expect(driver.train('P')).toMatchObject({ confirmed: true });
    expect(driver.state.doubts).toEqual([]);
    expect(driver.row('G').status).toBe('ask');
  });

  it('shows what is missing', () => {
    const driver = fresh();
    driver.lineUp('e2');
    expect(driver.row('P')).toMatchObject({ status: 'missing' });
    expect(driver.command({ kind: 'start' })).toBe('open-questions');
    expect(driver.command({ kind: 'confirm-absent', train: 0 })).toBe(null);
    expect(driver.row('P').status).toBe('absent');
    expect(driver.element('W').holder).toBe(-1);
    confirm(driver, 'G', 'E>b');
    expect(driver.command({ kind: 'start' })).toBe(null);
  });

  it('shows another decoder in a train’s place', () => {
    const driver = fresh();
    lineUpWith(driver, ['w2', 'e2'], [['w2', 12]]);
    expect(driver.row('P')).toMatchObject({
      status: 'mismatch',
      text: 'Decoder short:12 answers there instead.',
    });
    expect(driver.command({ kind: 'start' })).toBe('open-questions');
  });

  it('shows a train that stands the other way round than stored', () => {
    const driver = fresh();
    const facing = (end: 'a' | 'b'): void =>
      driver.device({
        kind: 'report',
        section: driver.sectionIndex('w2'),
        decoders: [{ kind: 'short', number: 3, facing: end }],
      });
    driver.lineUp('w2', 'e2');
    facing('a');
    expect(driver.row('P')).toMatchObject({
      status: 'mismatch',
      text: 'Its decoder answers, but facing a: it stands the other way round.',
    });
    facing('b');
    expect(driver.row('P').status).toBe('confirmed');
  });

  it('says where more decoders answer than can be told apart', () => {
    const driver = fresh();
    driver.lineUp('w2', 'e2');
    const section = driver.sectionIndex('w2');
    driver.device({ kind: 'report', section, decoders: [], crowded: true });
    expect(driver.row('P').text).toMatch(/^More decoders answer there than its detector can tell/);
  });

  it('asks about strangers', () => {
    const driver = fresh();
    driver.lineUp('w2', 'e2', 's2');
    confirm(driver, 'P', 'W>b');
    confirm(driver, 'G', 'E>b');
    expect(driver.command({ kind: 'start' })).toBe('open-questions');
    expect(driver.command({ kind: 'confirm-clear', block: driver.elementIndex('S') })).toBe(null);
    expect(driver.command({ kind: 'start' })).toBe(null);
  });

  it('moves a train that a person saw elsewhere', () => {
    const driver = fresh();
    driver.lineUp('m2', 'e2');
    expect(confirm(driver, 'P', 'M>b')).toBe(null);
    expect(driver.heldBy('P')).toEqual(['M']);
    expect(driver.element('W').holder).toBe(-1);
    expect(driver.row('P').status).toBe('confirmed');
  });

  it('refuses a place that cannot be', () => {
    const driver = fresh();
    driver.lineUp('w2', 'e2');
    confirm(driver, 'G', 'E>b');
    expect(confirm(driver, 'P', 'E>b')).toBe('block-held');
    const tooLong = new SessionDriver(dividedLoop(), longGoods(), crossing());
    tooLong.lineUp('w2', 'e2');
    expect(confirm(tooLong, 'P', 'M>b')).toBe('too-long');
  });

  it('refuses a place from which the train cannot go on', () => {
    const driver = fresh();
    driver.lineUp('w2', 'm2');
    expect(confirm(driver, 'G', 'M>b')).toBe('no-way-on');
  });
});

const longGoods = () => {
  const stock = twoTrains();
  return {
    ...stock,
    trains: stock.trains.map((it) =>
      it.id === 'P' ? train('P', 'L1 coach*5', { canReverse: true }) : it,
    ),
  };
};

describe('silent trains that may have changed places', () => {
  /** N trains in N blocks of a yard; their decoders never answer. */
  function yard(count: number): SessionDriver {
    const names = Array.from({ length: count }, (_, index) => index + 1);
    const layout = layoutOf(
      names.flatMap((it) => [bufferStop(`X${it}`), block(`Y${it}`), bufferStop(`Z${it}`)]),
      names.flatMap((it) => [`X${it}.a Y${it}.a`, `Y${it}.b Z${it}.a`]),
      { stations: [station('Yard', 0, ...names.map((it) => [`Y${it}`]))] },
    );
    const stock = stockOf(
      names.map((it) => locomotive(`L${it}`, it, { answers: false })),
      [],
      names.map((it) => train(`T${it}`, `L${it}`)),
    );
    const places = Object.fromEntries(names.map((it) => [`T${it}`, `Y${it}>b`]));
    const driver = new SessionDriver(layout, stock, timetableOf([], {}, places));
    driver.lineUp(...names.map((it) => `s-Y${it}`));
    return driver;
  }

  it('are in doubt together, and a pair never starts unconfirmed', () => {
    const driver = yard(2);
    expect(driver.state.doubts).toMatchObject([{ trains: [0, 1], assignments: [{}, {}] }]);
    expect(driver.command({ kind: 'start' })).toBe('open-questions');
    expect(confirm(driver, 'T1', 'Y1>b')).toBe(null);
    expect(driver.state.doubts).toEqual([]);
    expect(driver.row('T2').status).toBe('confirmed');
    expect(driver.command({ kind: 'start' })).toBe(null);
  });

  it('are exchanged when one is seen in the other’s place', () => {
    const driver = yard(2);
    expect(confirm(driver, 'T1', 'Y2>b')).toBe(null);
    expect(driver.heldBy('T1')).toEqual(['Y2']);
    expect(driver.heldBy('T2')).toEqual(['Y1']);
    expect(driver.state.trains.map(({ confirmed }) => confirmed)).toEqual([true, true]);
  });

  it('are told apart one by one when there are three', () => {
    const driver = yard(3);
    expect(driver.state.doubts[0]!.assignments).toHaveLength(6);
    expect(confirm(driver, 'T1', 'Y2>b')).toBe(null);
    expect(driver.state.doubts[0]!.assignments).toHaveLength(2);
    expect(driver.command({ kind: 'start' })).toBe('open-questions');
    expect(confirm(driver, 'T2', 'Y3>b')).toBe(null);
    expect(driver.state.doubts).toEqual([]);
    expect(['T1', 'T2', 'T3'].map((it) => driver.heldBy(it))).toEqual([['Y2'], ['Y3'], ['Y1']]);
    expect(driver.command({ kind: 'start' })).toBe(null);
  });

  it('stay known as a person saw them when the last of them is inferred', () => {
    const driver = yard(3);
    confirm(driver, 'T1', 'Y2>b');
    confirm(driver, 'T2', 'Y3>b');
    expect(driver.state.trains.map(({ identity }) => identity.certainty)).toEqual([
      'declared',
      'declared',
      'inferred',
    ]);
    expect(driver.train('T1').identity.evidence).toBe('Ada saw it there.');
  });

  it('take the newest word about a train', () => {
    const driver = yard(3);
    confirm(driver, 'T1', 'Y2>b');
    expect(confirm(driver, 'T1', 'Y3>b')).toBe(null);
    expect(driver.state.doubts[0]!.said).toEqual([
      { train: 0, block: driver.elementIndex('Y3'), by: 'Ada' },
    ]);
    confirm(driver, 'T2', 'Y1>b');
    expect(['T1', 'T2', 'T3'].map((it) => driver.heldBy(it))).toEqual([['Y3'], ['Y1'], ['Y2']]);
  });

  it('are merged when their assignments are too many to keep, until words make them few', () => {
    const driver = yard(5);
    expect(driver.state.doubts).toMatchObject([{ trains: [0, 1, 2, 3, 4], assignments: [] }]);
    expect(confirm(driver, 'T1', 'Y2>b')).toBe(null);
    expect(driver.state.doubts[0]!.assignments).toHaveLength(24);
    expect(driver.command({ kind: 'start' })).toBe('open-questions');
    for (const it of [2, 3]) confirm(driver, `T${it}`, `Y${it + 1}>b`);
    expect(driver.state.doubts[0]!.assignments).toHaveLength(2);
    confirm(driver, 'T4', 'Y5>b');
    expect(driver.state.doubts).toEqual([]);
    expect([1, 2, 3, 4, 5].map((it) => driver.heldBy(`T${it}`)[0])).toEqual([
      'Y2',
      'Y3',
      'Y4',
      'Y5',
      'Y1',
    ]);
    expect(driver.command({ kind: 'start' })).toBe(null);
  });

  it('are never multiplied with others far away', () => {
    const driver = yard(6);
    for (const it of [1, 2, 3, 4]) confirm(driver, `T${it}`, `Y${it}>b`);
    expect(driver.state.doubts.map(({ trains }) => trains)).toEqual([[4, 5]]);
  });
});

describe('after a power cut', () => {
  it('every place is confirmed anew before anything moves', () => {
    const driver = runningCrossing();
    driver.wait(51_000);
    driver.command({ kind: 'cut-power' });
    driver.wait(5000);
    expect(driver.command({ kind: 'resume' })).toBe('wrong-phase');
    lineUpWith(driver, ['w2', 'w3', 'e1', 'e2'], [['w2', 3]]);
    expect(driver.row('P').status).toBe('confirmed');
    expect(driver.row('G').status).toBe('ask');
    expect(driver.command({ kind: 'resume' })).toBe('open-questions');
    expect(driver.speedOf(3)).toBe(0);
    confirm(driver, 'G', 'S>a');
    expect(driver.command({ kind: 'resume' })).toBe(null);
    expect(driver.heldBy('P')).toEqual(['W', 'TW', 'M']);
    driver.wait(1000);
    expect(driver.speedOf(3)).toBeGreaterThan(0);
  });

  it('a train seen in a section that has lost contact may be as far on as was reckoned before', () => {
    const driver = runningLine();
    driver.wait(10_300);
    driver.occupied('b1');
    driver.wait(2400);
    driver.occupied('b2');
    driver.wait(2000);
    driver.command({ kind: 'cut-power' });
    driver.wait(5000);
    const { world, state } = driver;
    const before = furthestHead(world.models[0]!, state.trains[0]!, state.now);
    expect(before).toBeGreaterThan(1500);
    // The head stands in b2, which reads free: its contact is lost.
    driver.lineUp('a2', 'b1');
    const { heading } = driver.row('T');
    expect(driver.command({ kind: 'confirm-place', train: 0, heading })).toBe(null);
    expect(driver.train('T').edge).toBe(1000);
    expect(driver.train('T').blind).toEqual(['b2', 'c1'].map((id) => driver.sectionIndex(id)));
    expect(furthestHead(world.models[0]!, state.trains[0]!, driver.now)).toBe(before);
  });

  it('a train that was under way may have come into a section that reads free', () => {
    const driver = runningLine();
    driver.wait(10_300);
    driver.occupied('b1');
    driver.wait(2000);
    driver.command({ kind: 'cut-power' });
    driver.wait(5000);
    const { world, state } = driver;
    const furthest = (): number => furthestHead(world.models[0]!, state.trains[0]!, driver.now);
    const before = furthest();
    const b2 = piecesOf(world.layout, state.trains[0]!.path).find(
      ({ section }) => section === driver.sectionIndex('b2'),
    )!;
    expect(before).toBeGreaterThan(b2.start);
    expect(before).toBeLessThan(b2.end);
    driver.lineUp('a2', 'b1');
    const { heading } = driver.row('T');
    expect(driver.command({ kind: 'confirm-place', train: 0, heading })).toBe(null);
    expect(driver.train('T').blind).toEqual([b2.section]);
    expect(furthest()).toBe(before);
  });

  it('nothing moves by itself when power comes back unasked', () => {
    const driver = runningCrossing();
    driver.wait(55_000);
    driver.device({ kind: 'power', district: 0, state: 'short' });
    driver.wait(1000);
    driver.device({ kind: 'power', district: 0, state: 'on' });
    driver.wait(60_000);
    expect(driver.state.session.phase.kind).toBe('powerless');
    expect([driver.speedOf(3), driver.speedOf(12)]).toEqual([0, 0]);
    expect(driver.command({ kind: 'start' })).toBe('wrong-phase');
  });

  it('the session does not start while a feedback bus is silent', () => {
    const driver = linedUpCrossing();
    driver.device({ kind: 'bus', bus: 'bus1', alive: false });
    expect(driver.command({ kind: 'start' })).toBe('bus-silent');
    driver.device({ kind: 'bus', bus: 'bus1', alive: true });
    expect(driver.command({ kind: 'start' })).toBe('not-settled');
    driver.wait(2500);
    expect(driver.command({ kind: 'start' })).not.toBe('not-settled');
  });
});
