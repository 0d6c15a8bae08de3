import { describe, expect, it } from 'vitest';
import type { SessionDriver } from '../testing/session-driver.js';
import { runningCrossing } from '../testing/session-settings.js';
import { candidates } from './strangers.js';

/** P runs from W over TW towards M and has been seen on the turnout; G waits in E, or is let go to S. */
function onTheTurnout(opposing: 'waits' | 'comes'): SessionDriver {
  const driver = runningCrossing();
  if (opposing === 'waits') driver.command({ kind: 'hold-train', train: 1, hold: true });
  driver.wait(52_000);
  driver.occupied('s-TW');
  expect(driver.path('P')).toEqual(['W', 'TW', 'M']);
  expect(driver.train('P')).toMatchObject({ edge: 1500, activity: { kind: 'moving' } });
  driver.wait(1000);
  return driver;
}

const WHY =
  'section s1 beside its way became occupied: it may have gone there over a turnout that lies wrong';

describe('a section beside the way of a train that is on the turnout before it', () => {
  it('becomes occupied: the train may have gone there; it stops, in doubt, and the others run on', () => {
    const driver = onTheTurnout('waits');
    driver.occupied('s1');
    expect(driver.train('P')).toMatchObject({
      activity: { kind: 'halted', why: WHY },
      identity: { certainty: 'ambiguous' },
    });
    expect(driver.speedOf(3)).toBe(0);
    expect(driver.state.session.phase.kind).toBe('running');
    expect(candidates(driver, driver.sectionIndex('s1'))).toMatchObject([
      { train: 0, why: 'a turnout on its way leads there' },
    ]);
    driver.wait(5000);
    expect(driver.command({ kind: 'release-train', train: 0 })).toBe('identity');
  });

  it('is held for another train: both stop', () => {
    const driver = onTheTurnout('comes');
    expect(driver.path('G')).toEqual(['E', 'TE', 'S']);
    driver.occupied('s1');
    expect(driver.train('P').activity).toEqual({ kind: 'halted', why: WHY });
    expect(driver.train('G').activity.kind).toBe('halted');
  });

  it('does not concern a train that was seen beyond the turnout, or has not come to it', () => {
    const beyond = onTheTurnout('waits');
    beyond.wait(1500);
    beyond.occupied('m1');
    beyond.occupied('s1');
    expect(beyond.train('P')).toMatchObject({ activity: { kind: 'moving' } });
    expect(candidates(beyond, beyond.sectionIndex('s1'))).toEqual([]);

    const before = runningCrossing();
    before.command({ kind: 'hold-train', train: 1, hold: true });
    before.wait(50_500);
    before.occupied('s1');
    expect(before.train('P').identity.certainty).not.toBe('ambiguous');
  });
});
