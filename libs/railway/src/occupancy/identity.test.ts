import { describe, expect, it } from 'vitest';
import type { SessionDriver } from '../testing/session-driver.js';
import { line, runningCrossing, runningLine } from '../testing/session-settings.js';
import { car, locomotive, stockOf, train } from '../testing/stock-parts.js';
import { edited } from '../testing/edit.js';

/** T runs, its head just seen in b1. */
function inB1(driver = runningLine()): SessionDriver {
  driver.wait(10_300);
  driver.occupied('b1');
  return driver;
}

const silent = () =>
  stockOf(
    [locomotive('L1', 3, { answers: false })],
    [car('coach')],
    [train('T', 'L1 coach*1', { canReverse: true })],
  );

describe('the identity of a train', () => {
  it('is inferred from its way until a report comes', () => {
    const driver = inB1();
    expect(driver.train('T').identity).toMatchObject({
      certainty: 'inferred',
      evidence: 'Section b1 became occupied on the way held for T alone; no report has come yet.',
    });
    expect(driver.state.counts.inferred).toBe(0);
  });

  it('is confirmed by a report where the train is believed', () => {
    const driver = inB1();
    driver.report('b1', 3);
    expect(driver.train('T').identity).toMatchObject({
      certainty: 'reported',
      evidence: 'Its decoder answered in Section b1.',
      since: driver.now,
    });
    expect(driver.state.counts.reported).toBe(1);
  });

  it('stays inferred for a decoder that never answers', () => {
    const driver = inB1(runningLine(line(), silent()));
    expect(driver.train('T').identity).toMatchObject({ certainty: 'inferred' });
    expect(driver.train('T').identity.evidence).toContain('its decoder does not answer');
    expect(driver.state.counts.inferred).toBe(1);
  });

  it('stays inferred where the detector hears no decoders', () => {
    const deaf = edited(line(), ({ detectorTypes }) => {
      detectorTypes[0]!.reportsIdentity = false;
    });
    const driver = inB1(runningLine(deaf));
    expect(driver.train('T').identity.evidence).toContain('the detector there hears no decoders');
    expect(driver.state.counts.inferred).toBe(1);
  });

  it('is not lost when a report stays away or names nobody', () => {
    const driver = inB1();
    driver.report('b1', 3);
    driver.report('b1');
    expect(driver.train('T').identity.certainty).toBe('reported');
    expect(driver.section('b1').belief).toBe('occupied');
    expect(driver.alarms()).toEqual([]);
  });

  it('is not touched by a decoder nobody knows, which is written down', () => {
    const driver = inB1();
    driver.report('b1', 99);
    expect(driver.train('T').identity.certainty).toBe('inferred');
    expect(driver.train('T').activity.kind).toBe('moving');
    expect(driver.effects).toContainEqual({
      kind: 'log',
      text: 'Section b1 reports the unknown decoder short:99.',
      train: null,
    });
  });

  it('tells short and long addresses of one number apart', () => {
    const driver = inB1();
    const decoders = [{ kind: 'long', number: 3 }] as const;
    driver.device({ kind: 'report', section: driver.sectionIndex('b1'), decoders });
    expect(driver.train('T').identity.certainty).toBe('inferred');
  });
});

describe('a report of another train', () => {
  /** P in the loop's track M, G in E: no section of M is next to G but over a turnout. */
  function far(): SessionDriver {
    const driver = runningCrossing();
    driver.command({ kind: 'hold-train', train: 0, hold: true });
    driver.command({ kind: 'hold-train', train: 1, hold: true });
    return driver;
  }

  it('is taken for a misreading once, far from where the other is believed', () => {
    const driver = far();
    driver.report('w2', 12);
    expect(driver.train('P').identity).toMatchObject({ certainty: 'declared', misreads: 1 });
    expect(driver.train('P').activity.kind).toBe('standing');
    expect(driver.alarms()).toEqual([]);
  });

  it('is forgiven when the train’s own decoder answers after it', () => {
    const driver = far();
    driver.report('w2', 12);
    driver.report('w2', 3);
    expect(driver.train('P').identity).toMatchObject({ certainty: 'reported', misreads: 0 });
    driver.report('w2', 12);
    expect(driver.train('P').identity.certainty).toBe('reported');
  });

  it('is no new evidence when the same detector repeats it', () => {
    const driver = far();
    for (let time = 0; time < 6; time++) driver.report('w2', 12);
    expect(driver.train('P').identity).toMatchObject({ certainty: 'declared', misreads: 1 });
    expect(driver.state.doubts).toEqual([]);
    driver.wait(10_000);
    expect(driver.path('P')).toEqual(['W']);
  });

  it('is new evidence once the section has read free', () => {
    const driver = far();
    driver.report('w2', 12);
    driver.free('w2');
    driver.wait(1000);
    driver.occupied('w2');
    driver.report('w2', 12);
    expect(driver.state.doubts).toMatchObject([{ trains: [0, 1] }]);
  });

  it('is not made up for by a repeated answer of the train itself', () => {
    const driver = far();
    driver.report('w2', 3);
    driver.report('w2', 12);
    driver.report('w2', 3);
    expect(driver.train('P').identity).toMatchObject({ certainty: 'reported', misreads: 1 });
  });

  it('exchanges no two trains by repeating itself after both are in doubt', () => {
    const driver = far();
    driver.report('w2', 12);
    driver.report('w3', 12);
    for (let time = 0; time < 6; time++) driver.report('w2', 12);
    driver.wait(10_000);
    expect(driver.state.doubts[0]!.assignments).toHaveLength(2);
    expect(driver.path('P')).toEqual(['W']);
    expect(driver.path('G')).toEqual(['E']);
  });

  it('puts both in doubt when another detector says so too, and stops both', () => {
    const driver = far();
    driver.report('w2', 12);
    driver.report('w3', 12);
    for (const train of ['P', 'G']) {
      expect(driver.train(train).identity.certainty).toBe('ambiguous');
      expect(driver.train(train).activity.kind).toBe('halted');
    }
    expect(driver.state.doubts).toMatchObject([{ trains: [0, 1] }]);
    expect(driver.alarms()).toContain('Section w3 read G where P was expected.');
    driver.wait(1000);
    expect(driver.command({ kind: 'release-train', train: 0 })).toBe('identity');
  });

  it('puts both in doubt at once where the other may have strayed to', () => {
    const driver = runningCrossing();
    driver.wait(51_000);
    expect(driver.path('P')).toEqual(['W', 'TW', 'M']);
    expect(driver.path('G')).toEqual(['E', 'TE', 'S']);
    driver.report('s-TW', 12);
    expect(driver.train('P').identity.certainty).toBe('declared');
    driver.occupied('s-TW');
    expect(driver.train('P').identity.certainty).toBe('ambiguous');
    expect(driver.train('G').identity.certainty).toBe('ambiguous');
  });

  it('moves no train in the books before it stands', () => {
    const driver = runningCrossing();
    driver.runTo(54_000);
    driver.report('s-TW', 12);
    driver.occupied('s-TW');
    expect(driver.train('P').identity.certainty).toBe('ambiguous');
    driver.report('s-TW', 12);
    driver.report('w3', 12);
    driver.report('w2', 12);
    // Two detectors may have misread at once; with a third the trains have changed places.
    expect(driver.state.doubts[0]!.assignments).toHaveLength(2);
    driver.report('e2', 3);
    expect(driver.state.doubts[0]!.assignments).toHaveLength(1);
    expect(driver.heldBy('P')).toEqual(['W', 'TW', 'M']);
    driver.wait(10_000);
    expect(driver.state.doubts).toEqual([]);
    expect(driver.heldBy('P')).not.toContain('M');
    expect(driver.train('P').activity.kind).toBe('halted');
  });

  it('ends when a person says where the trains stand', () => {
    const driver = far();
    driver.report('w2', 12);
    driver.report('w3', 12);
    driver.wait(1000);
    expect(
      driver.command({ kind: 'declare-identity', train: 0, block: driver.elementIndex('W') }),
    ).toBe(null);
    expect(driver.state.doubts).toEqual([]);
    expect(driver.train('P').identity.certainty).toBe('declared');
    expect(driver.train('G').identity.certainty).not.toBe('ambiguous');
    expect(driver.command({ kind: 'release-train', train: 1 })).toBe(null);
    expect(
      driver.state.alarms.filter(
        ({ key, clearedAt }) => key.startsWith('identity') && clearedAt === null,
      ),
    ).toEqual([]);
  });

  it('lets trains change places when that is what a person saw', () => {
    const driver = far();
    driver.report('w2', 12);
    driver.report('w3', 12);
    driver.wait(1000);
    expect(
      driver.command({ kind: 'declare-identity', train: 0, block: driver.elementIndex('E') }),
    ).toBe(null);
    expect(driver.path('P')).toEqual(['E']);
    expect(driver.path('G')).toEqual(['W']);
    expect(driver.state.doubts).toEqual([]);
  });
});
