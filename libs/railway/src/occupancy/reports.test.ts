import { describe, expect, it } from 'vitest';
import { edited } from '../testing/edit.js';
import type { SessionDriver } from '../testing/session-driver.js';
import { line, oneTrain, runningCrossing, runningLine } from '../testing/session-settings.js';
import { car, locomotive, stockOf, train } from '../testing/stock-parts.js';

/** T runs, its head just seen in b1. */
function inB1(driver = runningLine()): SessionDriver {
  driver.wait(10_300);
  driver.occupied('b1');
  return driver;
}

/** P in W and G in E, both held. */
function held(): SessionDriver {
  const driver = runningCrossing();
  for (const it of [0, 1]) driver.command({ kind: 'hold-train', train: it, hold: true });
  return driver;
}

describe('a report and its edge', () => {
  it('may come in either order', () => {
    const driver = runningLine();
    driver.wait(10_300);
    driver.report('b1', 3);
    driver.occupied('b1');
    expect(driver.train('T').identity).toMatchObject({ certainty: 'reported' });
  });

  it('of a train that has left names nobody any more: late, not wrong', () => {
    const driver = held();
    expect(driver.section('s-TW').belief).toBe('clear');
    driver.report('s-TW', 3);
    driver.report('s-TW', 12);
    expect(driver.state.trains.map(({ identity }) => identity.certainty)).toEqual([
      'declared',
      'declared',
    ]);
    expect(driver.alarms()).toEqual([]);
  });
});

describe('two trains in one place', () => {
  it('are found when both answer: no misreading explains that', () => {
    const driver = held();
    driver.report('w2', 3, 12);
    for (const it of ['P', 'G']) {
      expect(driver.train(it)).toMatchObject({
        identity: { certainty: 'ambiguous' },
        activity: { kind: 'halted' },
      });
    }
    expect(driver.alarms()).toContain('Section w2 read G beside P, for which alone it is held.');
  });

  it('are found when more decoders answer than the train has', () => {
    const driver = held();
    driver.device({
      kind: 'report',
      section: driver.sectionIndex('w2'),
      decoders: [],
      crowded: true,
    });
    expect(driver.train('P').identity).toMatchObject({
      certainty: 'ambiguous',
      evidence: 'Section w2 hears more decoders than P has.',
    });
    expect(driver.train('G').identity.certainty).toBe('declared');
  });
});

describe('a train with more decoders than its detector tells apart', () => {
  const double = () =>
    stockOf(
      [locomotive('L1', 3), locomotive('L2', 4)],
      [],
      [train('T', 'L1 -L2', { canReverse: true })],
    );
  const single = edited(line(), ({ detectorTypes }) => {
    detectorTypes[0]!.readsAtOnce = 1;
  });

  it('is occupied and unreadable there, until enough have left', () => {
    const driver = inB1(runningLine(single, double()));
    driver.device({
      kind: 'report',
      section: driver.sectionIndex('b1'),
      decoders: [],
      crowded: true,
    });
    expect(driver.section('b1')).toMatchObject({ belief: 'occupied', crowded: true });
    expect(driver.train('T').identity).toMatchObject({ certainty: 'inferred' });
    expect(driver.train('T').identity.evidence).toContain('cannot tell so many decoders apart');
    expect(driver.alarms()).toEqual([]);
    driver.report('b1', 4);
    expect(driver.section('b1').crowded).toBe(false);
    expect(driver.train('T').identity.certainty).toBe('reported');
  });
});

describe('a consist', () => {
  const consist = () =>
    edited(
      stockOf(
        [locomotive('L1', 3), locomotive('L2', 4)],
        [car('coach')],
        [train('T', 'L1 -L2 coach*1', { canReverse: true })],
      ),
      ({ trains }) => {
        trains[0]!.consistAddress = { kind: 'short', number: 77 };
      },
    );

  it.each([
    ['one address', [77]],
    ['several addresses', [3, 4]],
    ['any one of them', [4]],
  ])('is known by %s', (_, numbers) => {
    const driver = inB1(runningLine(line(), consist()));
    driver.report('b1', ...numbers);
    expect(driver.train('T').identity.certainty).toBe('reported');
    expect(driver.alarms()).toEqual([]);
  });
});

describe('the way round a locomotive stands', () => {
  const read = (driver: SessionDriver, facing: 'a' | 'b'): void => {
    const decoders = [{ kind: 'short', number: 3, facing }] as const;
    driver.device({ kind: 'report', section: driver.sectionIndex('b1'), decoders });
  };

  it('confirms a train that stands as believed', () => {
    const driver = inB1();
    read(driver, 'b');
    expect(driver.train('T').identity.certainty).toBe('reported');
  });

  it('tells that a train was turned round by hand', () => {
    const driver = inB1();
    read(driver, 'a');
    expect(driver.train('T')).toMatchObject({
      identity: { certainty: 'ambiguous' },
      activity: { kind: 'halted' },
    });
    expect(driver.alarms()).toContain(
      'T answers in Section b1 facing a, the other way round than believed.',
    );
  });

  it('counts from the end of the train that the locomotive looks to', () => {
    const turned = edited(oneTrain(), ({ trains }) => {
      trains[0]!.vehicles = [...trains[0]!.vehicles]
        .reverse()
        .map((it) => ('locomotive' in it ? { ...it, facing: 'backward' as const } : it));
    });
    const driver = inB1(runningLine(line(), turned));
    read(driver, 'a');
    expect(driver.train('T').identity.certainty).toBe('reported');
  });
});

describe('an edge next to something unidentified', () => {
  it('is not certain to be the train’s: it stops, and a person is asked', () => {
    const silent = stockOf(
      [locomotive('L1', 3, { answers: false })],
      [car('coach')],
      [train('T', 'L1 coach*1', { canReverse: true })],
    );
    const driver = runningLine(line(), silent);
    driver.occupied('d1');
    driver.wait(10_300);
    for (const section of ['b1', 'b2']) {
      driver.occupied(section);
      expect(driver.train('T').identity.certainty).toBe('inferred');
      driver.wait(section === 'b1' ? 2400 : 3000);
    }
    expect(driver.path('T').at(-1)).toBe('C');
    driver.occupied('c1');
    expect(driver.train('T')).toMatchObject({
      identity: { certainty: 'ambiguous' },
      activity: { kind: 'halted' },
    });
    expect(driver.train('T').identity.evidence).toContain(
      'section d1 next to it may have caused it',
    );
    driver.wait(3000);
    expect(driver.command({ kind: 'release-train', train: 0 })).toBe('identity');
    expect(
      driver.command({ kind: 'declare-identity', train: 0, block: driver.elementIndex('C') }),
    ).toBe(null);
    expect(driver.train('T').identity.certainty).toBe('declared');
  });
});
