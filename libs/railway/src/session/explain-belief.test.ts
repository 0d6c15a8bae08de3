import { describe, expect, it } from 'vitest';
import type { SessionDriver } from '../testing/session-driver.js';
import { runningCrossing, runningLine } from '../testing/session-settings.js';
import { askedDoubt, explainBelief, findSubject } from './explain-belief.js';

/** P in W and G in E, in doubt together: two detectors of P's block read G. */
function doubted(): SessionDriver {
  const driver = runningCrossing();
  for (const it of [0, 1]) driver.command({ kind: 'hold-train', train: it, hold: true });
  driver.report('w2', 12);
  driver.report('w3', 12);
  return driver;
}

describe('the explanation of a belief', () => {
  it('says of a train where it is, whether that is certain, and by what', () => {
    const driver = runningLine();
    driver.wait(10_300);
    driver.occupied('b1');
    driver.report('b1', 3);
    expect(explainBelief(driver, { kind: 'train', index: 0 })).toEqual({
      belief: 'T runs at block B (certain, reported).',
      evidence: ['Its decoder answered in Section b1.'],
      since: driver.now,
    });
  });

  it('says of trains in doubt what is known, and asks with candidates', () => {
    const driver = doubted();
    const { belief, evidence } = explainBelief(driver, { kind: 'train', index: 0 });
    expect(belief).toBe('P stands at Station West 1 (not certain, ambiguous).');
    expect(evidence).toEqual([
      'Section w3 read G where P was expected.',
      'It is in doubt together with G. Section w3 read G where P was expected.',
      expect.stringMatching(/^The evidence allows [12] ways? in which they may stand\.$/),
    ]);
    const asked = askedDoubt(driver, 0)!;
    expect(asked.block).toBe(driver.elementIndex('W'));
    expect(asked.candidates.map(({ train }) => train)).toEqual(expect.arrayContaining([1]));
    driver.wait(1000);
    driver.command({ kind: 'declare-identity', train: 0, block: asked.block });
    expect(askedDoubt(driver, 0)).toBe(null);
    expect(explainBelief(driver, { kind: 'train', index: 0 })).toMatchObject({
      belief: 'P stands at Station West 1 (certain, declared).',
      evidence: ['Ada saw it there.'],
    });
  });

  it('says of a block and a section what stands there, and who it may be', () => {
    const driver = runningLine();
    driver.wait(10_300);
    driver.occupied('d1');
    const block = explainBelief(driver, { kind: 'element', index: driver.elementIndex('D') });
    expect(block.belief).toBe('D is occupied by nobody known.');
    expect(block.evidence).toEqual([
      'Section d1 became occupied though no train has authority there.',
      'It may be T: it stands next to it (100 of 100, for ranking only).',
    ]);
    const section = explainBelief(driver, { kind: 'section', index: driver.sectionIndex('d1') });
    expect(section.belief).toBe('Section d1 is occupied.');
    expect(section.evidence).toContain('Its detector says occupied.');
  });

  it('finds what a person names', () => {
    const { world } = runningLine();
    expect(findSubject(world, 'train', 'T')).toEqual({ kind: 'train', index: 0 });
    expect(findSubject(world, 'section', 'a2')?.kind).toBe('section');
    expect(findSubject(world, 'element', 'nowhere')).toBe(null);
  });
});
