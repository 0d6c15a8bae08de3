import { describe, expect, it } from 'vitest';
import type { SessionDriver } from '../testing/session-driver.js';
import { runningLine } from '../testing/session-settings.js';

const giveBack = (driver: SessionDriver): string | null =>
  driver.command({ kind: 'give-back-route', train: 0 });

/** T under way in A with authority over B and C, its top speed reached. */
function approaching(): SessionDriver {
  const driver = runningLine();
  driver.wait(10_300);
  expect(driver.path('T')).toEqual(['A', 'B', 'C']);
  expect(driver.train('T').authorised).toBe(2);
  expect(driver.train('T').activity.kind).toBe('moving');
  return driver;
}

/** GK/RT0063 (1996) names the two cases by title; that the time follows from measured braking is ours. */
describe('a way given back', () => {
  it('with a train approaching goes to stop at once and stays locked', () => {
    const driver = approaching();
    expect(driver.signal('A>b')).toBe('proceed');
    expect(giveBack(driver)).toBe(null);
    expect(driver.signal('A>b')).toBe('stop');
    expect(driver.heldBy('T')).toEqual(['A', 'B', 'C']);
    expect(driver.train('T').authorised).toBe(0);
    expect(driver.train('T').limit).toBeLessThanOrEqual(1000);
    expect(driver.train('T').wait?.kind).toBe('given-back');
  });

  it('frees when the time the train needs at the longest to stand is over', () => {
    const driver = approaching();
    giveBack(driver);
    const until = driver.state.deadlines.find(({ kind }) => kind === 'approach')!.at;
    driver.runTo(until - 1);
    expect(driver.heldBy('T')).toEqual(['A', 'B', 'C']);
    driver.runTo(until);
    expect(driver.heldBy('T')).toEqual(['A']);
  });

  it('frees when the train is proven standing before that', () => {
    const driver = approaching();
    giveBack(driver);
    driver.command({ kind: 'stop-all' });
    const stand = driver.state.deadlines.find(({ kind }) => kind === 'stand')!.at;
    driver.runTo(stand);
    expect(driver.heldBy('T')).toEqual(['A']);
    expect(driver.state.deadlines.some(({ kind }) => kind === 'approach')).toBe(false);
  });

  it('frees at once with nobody approaching', () => {
    const driver = approaching();
    driver.command({ kind: 'stop-all' });
    driver.wait(20_000);
    expect(giveBack(driver)).toBe(null);
    expect(driver.heldBy('T')).toEqual(['A']);
  });

  it('stays locked under a train that passes its new limit: everything stops', () => {
    const driver = approaching();
    giveBack(driver);
    driver.occupied('b1');
    expect(driver.train('T').activity.kind).toBe('halted');
    expect(driver.state.session.phase.kind).toBe('stopped');
    expect(driver.heldBy('T')).toEqual(['A', 'B', 'C']);
    driver.wait(60_000);
    expect(driver.heldBy('T')).toEqual(['A', 'B', 'C']);
  });

  it('stays locked while power is away, and frees when the place is confirmed', () => {
    const driver = approaching();
    giveBack(driver);
    driver.command({ kind: 'cut-power' });
    driver.wait(60_000);
    expect(driver.heldBy('T')).toEqual(['A', 'B', 'C']);
    driver.lineUp('a2');
    driver.report('a2', 3);
    driver.wait(6000);
    expect(driver.heldBy('T')).toEqual(['A']);
  });

  it('cannot be given back twice nor another way be set on while it is locked', () => {
    const driver = approaching();
    giveBack(driver);
    expect(giveBack(driver)).toBe('nothing-to-give-back');
    expect(driver.command({ kind: 'set-route', train: 0, block: driver.elementIndex('D') })).toBe(
      'given-back',
    );
  });

  it('is asked for again when the train is let go, once it has freed', () => {
    const driver = approaching();
    giveBack(driver);
    driver.command({ kind: 'hold-train', train: 0, hold: false });
    expect(driver.train('T').authorised).toBe(0);
    driver.wait(8000);
    expect(driver.train('T').authorised).toBeGreaterThan(0);
  });
});
