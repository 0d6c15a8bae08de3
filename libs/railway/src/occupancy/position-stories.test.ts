import { describe, expect, it } from 'vitest';
import type { SessionDriver } from '../testing/session-driver.js';
import { runningLine } from '../testing/session-settings.js';
import { beliefOf, type BlockState } from './block-belief.js';

/**
 * The six position stories of the ERTMS Users Group's 16E042 v1C (2018) and its published formal model: sections
 * T10 = {v11, v12}, T20 = {v21, v22, v23}, T30 = {v31, v32, v33}, one direction. Here A, B and C are T10, T20 and T30, each of
 * two detected sections. Our states in the standard's words:
 */
const WORDS: Record<BlockState, string> = {
  clear: 'FREE',
  occupied: 'OCCUPIED',
  expected: 'UNKNOWN',
  ambiguous: 'AMBIGUOUS',
  unidentified: 'UNKNOWN',
  unknown: 'UNKNOWN',
};

const states = (driver: SessionDriver): string[] =>
  ['A', 'B', 'C'].map((id) => WORDS[beliefOf(driver, driver.elementIndex(id)).state]);

/** T sets off from A. */
function leaving(): SessionDriver {
  const driver = runningLine();
  driver.wait(10_300);
  return driver;
}

/** Runs from A into C; `free` is called when the train has left A, `report` in each section it enters. */
function intoC(driver: SessionDriver, leaveA: () => void, report: (section: string) => void): void {
  const enter = (section: string, after: number): void => {
    driver.wait(after);
    driver.occupied(section);
    report(section);
  };
  enter('b1', 0);
  enter('b2', 2400);
  driver.wait(1500);
  leaveA();
  driver.wait(500);
  driver.free('b1');
  enter('c1', 1000);
  driver.wait(1000);
  driver.free('b2');
  driver.wait(2500);
}

describe('the published position stories', () => {
  it('one train, always reporting: T30 is occupied, all else free', () => {
    const driver = leaving();
    intoC(
      driver,
      () => driver.free('a2'),
      (section) => driver.report(section, 3),
    );
    expect(states(driver)).toEqual(['FREE', 'FREE', 'OCCUPIED']);
    expect(driver.train('T').identity.certainty).toBe('reported');
  });

  it('the train splits, its front part leaves: what stays is unknown, not free', () => {
    const driver = leaving();
    intoC(
      driver,
      () => {},
      (section) => driver.report(section, 3),
    );
    expect(states(driver)).toEqual(['UNKNOWN', 'FREE', 'OCCUPIED']);
    driver.wait(5000);
    expect(driver.alarms()).toContain('Section a2 stays occupied though T has passed it whole.');
  });

  it('an unreported part follows: a second is not excluded where the train is', () => {
    const driver = leaving();
    intoC(
      driver,
      () => driver.free('a2'),
      (section) => driver.report(section, 3),
    );
    driver.occupied('c2');
    driver.wait(500);
    driver.free('c1');
    driver.wait(1000);
    driver.occupied('b2');
    expect(states(driver)[1]).toBe('UNKNOWN');
    driver.occupied('c1');
    expect(states(driver)[2]).toBe('AMBIGUOUS');
  });

  it('silent on the way and reporting again: it is known by report in the end', () => {
    const driver = leaving();
    intoC(
      driver,
      () => driver.free('a2'),
      (section) => {
        if (section === 'c1') driver.report(section, 3);
      },
    );
    expect(states(driver)).toEqual(['FREE', 'FREE', 'OCCUPIED']);
    expect(driver.train('T').identity.certainty).toBe('reported');
  });

  // Integrity is not reported by our trains. A part left behind shows as occupied track behind the proven tail, whether or
  // not the front part says that it is whole: both stories end like the second.
  it.each([['confirmed later'], ['never confirmed again']])(
    'integrity lost, %s, the rear part left behind: T10 is unknown and stays closed',
    () => {
      const driver = leaving();
      intoC(
        driver,
        () => {},
        () => {},
      );
      expect(states(driver)).toEqual(['UNKNOWN', 'FREE', 'OCCUPIED']);
      expect(driver.element('A').holder).toBe(0);
    },
  );
});

describe('what is believed of a block', () => {
  it('is unknown without detection, and expected where a train is stored', () => {
    const driver = runningLine();
    driver.command({ kind: 'cut-power' });
    driver.wait(1000);
    expect(beliefOf(driver, driver.elementIndex('A'))).toMatchObject({
      state: 'expected',
      train: 0,
    });
    expect(beliefOf(driver, driver.elementIndex('D')).state).toBe('unknown');
  });

  it('is clear while it is only reserved, and after a person found it so', () => {
    const driver = leaving();
    expect(driver.heldBy('T')).toContain('C');
    expect(beliefOf(driver, driver.elementIndex('C'))).toMatchObject({
      state: 'clear',
      evidence: 'All its sections read free.',
    });
    driver.occupied('d2');
    expect(beliefOf(driver, driver.elementIndex('D')).state).toBe('unidentified');
    driver.command({ kind: 'confirm-clear', block: driver.elementIndex('D') });
    expect(beliefOf(driver, driver.elementIndex('D'))).toMatchObject({
      state: 'clear',
      evidence: 'Ada found it clear (reset 1); its detector had said occupied.',
    });
  });

  it('is ambiguous for trains in doubt together', () => {
    const driver = leaving();
    driver.occupied('b1');
    driver.train('T').identity.certainty = 'ambiguous';
    expect(beliefOf(driver, driver.elementIndex('B')).state).toBe('ambiguous');
  });
});
