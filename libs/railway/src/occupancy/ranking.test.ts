import { describe, expect, it } from 'vitest';
import { linedUpCrossing } from '../testing/session-settings.js';
import { candidatesIn } from './doubt-candidates.js';
import { openDoubt, reportSpeaks } from './doubt.js';
import { shares, weightOfFaults, weightOfSilence } from './ranking.js';
import { Writer } from '../session/writer.js';

/**
 * Identity arithmetic, worked by Bayes' rule for two trains on two tracks, both ways alike likely before, and a reader that
 * is right with 0.95.
 */
describe('the identity arithmetic', () => {
  it('one read “A at track 1” makes A at 1 and B at 2 likely together', () => {
    const [asRead, exchanged] = shares([weightOfFaults(0), weightOfFaults(1)]);
    expect(asRead).toBeCloseTo(0.95, 12);
    expect(exchanged).toBeCloseTo(0.05, 12);
  });

  it('two reads that agree give 0.99724, two that contradict leave 0.5', () => {
    expect(shares([weightOfFaults(0), weightOfFaults(2)])[0]).toBeCloseTo(0.99724, 5);
    expect(shares([weightOfFaults(1), weightOfFaults(1)])[0]).toBe(0.5);
  });

  it('a silent passage before a reader that hears 0.9 of those that answer leaves 0.0909', () => {
    const [answering] = shares([weightOfSilence(true), weightOfSilence(false)]);
    expect(answering).toBeCloseTo(0.0909, 4);
  });
});

describe('trains in doubt', () => {
  it('are ranked jointly: a read of one speaks for the place of the other too', () => {
    const driver = linedUpCrossing();
    const w = new Writer(driver.world, driver.state, driver.now, 0);
    openDoubt(w, [0, 1], 'They may have changed places.');
    const [west, east] = [driver.elementIndex('W'), driver.elementIndex('E')];
    expect(candidatesIn(driver.state, east)).toMatchObject([
      { train: 0, share: 0.5 },
      { train: 1, share: 0.5 },
    ]);
    reportSpeaks(w, 0, driver.sectionIndex('w2'));
    expect(candidatesIn(driver.state, east).map(({ train }) => train)).toEqual([1, 0]);
    expect(candidatesIn(driver.state, east)[0]!.share).toBeCloseTo(0.95, 12);
    expect(candidatesIn(driver.state, west)[0]!.share).toBeCloseTo(0.95, 12);
  });
});
