import { describe, expect, it } from 'vitest';
import { THROW, type SessionDriver } from '../testing/session-driver.js';
import { runningCrossing, runningLine } from '../testing/session-settings.js';

/** T has left A at its booked time and runs with authority over B and C. */
function underWay(): SessionDriver {
  const driver = runningLine();
  driver.wait(10_300);
  expect(driver.path('T')).toEqual(['A', 'B', 'C']);
  return driver;
}

describe('an edge at the head', () => {
  it('moves the head on where it is expected', () => {
    const driver = underWay();
    driver.occupied('b1');
    expect(driver.train('T')).toMatchObject({ edge: 1000, activity: { kind: 'moving' } });
    driver.wait(2400);
    driver.occupied('b2');
    expect(driver.train('T')).toMatchObject({ edge: 1300, activity: { kind: 'moving' } });
    expect(driver.alarms()).toEqual([]);
  });

  it('stops the train when it comes before the train can be there', () => {
    const driver = underWay();
    driver.occupied('b1');
    driver.wait(300);
    driver.occupied('c1');
    expect(driver.train('T').activity).toEqual({
      kind: 'halted',
      why: 'section c1 became occupied before the train can have reached it',
    });
    expect(driver.train('T').edge).toBe(1000);
    expect(driver.speedOf(3)).toBe(0);
    expect(driver.path('T')).toEqual(['A', 'B', 'C']);
    expect(driver.state.session.phase.kind).toBe('running');
  });

  it('stops every train when one moved that was told to stand', () => {
    const driver = runningLine();
    driver.command({ kind: 'hold-train', train: 0, hold: true });
    driver.wait(20_000);
    driver.occupied('b1');
    expect(driver.state.session.phase.kind).toBe('stopped');
    expect(driver.train('T').activity.kind).toBe('halted');
    expect(driver.sent.at(-1)?.command).toEqual({ kind: 'stop-all' });
  });

  it('stops every train when one entered what is reserved for it but not yet proven', () => {
    const driver = runningCrossing();
    driver.wait(50_000);
    expect(driver.path('P')).toEqual(['W', 'TW', 'M']);
    expect(driver.train('P').authorised).toBe(0);
    driver.occupied('s-TW');
    expect(driver.train('P').activity).toEqual({
      kind: 'halted',
      why: 'it moved into section s-TW without authority',
    });
    expect(driver.state.session.phase.kind).toBe('stopped');
    driver.wait(THROW + 60_000);
    expect(driver.train('P').activity.kind).toBe('halted');
    expect(driver.speedOf(3)).toBe(0);
  });

  it('stops for what is occupied again behind the tail, and keeps it locked until it reads free', () => {
    const driver = underWay();
    driver.occupied('b1');
    driver.wait(2400);
    driver.occupied('b2');
    driver.wait(1500);
    driver.free('a2');
    driver.wait(200);
    expect(driver.train('T').tail).toBe(1300 - 440);
    driver.occupied('a1');
    expect(driver.alarms()).toEqual([
      'Section a1 is occupied again behind T.',
      'T was stopped: section a1, which it had left, became occupied again: it may run the wrong way, or something may follow it.',
    ]);
    driver.free('b1');
    driver.wait(4000);
    expect(driver.speedOf(3)).toBe(0);
    expect(driver.path('T')[0]).toBe('A');
    expect(driver.command({ kind: 'release-train', train: 0 })).toBe('identity');
    const block = driver.elementIndex(driver.path('T').at(-1)!);
    expect(driver.command({ kind: 'declare-identity', train: 0, block })).toBe(null);
    driver.wait(1000);
    driver.occupied('c1');
    expect(driver.train('T').tail).toBe(2000 - 440);
    expect(driver.path('T')[0]).toBe('A');
    driver.free('a1');
    driver.wait(400);
    expect(driver.path('T')[0]).toBe('B');
    expect(driver.alarms()).toEqual([]);
  });

  it('is not let go on to what is occupied directly ahead, further off than it is long', () => {
    const driver = underWay();
    driver.occupied('b1');
    driver.wait(2400);
    driver.occupied('b2');
    driver.wait(200);
    driver.occupied('c1');
    expect(driver.alarms()).toContain(
      'T was stopped: section c1 became occupied before the train can have reached it.',
    );
    driver.wait(4000);
    // It is 440 mm long and b1 is still occupied, from which c1 lies 700 mm ahead.
    expect(driver.command({ kind: 'release-train', train: 0 })).toBe('occupied-ahead');
    expect(driver.train('T').edge).toBe(1300);
    driver.free('c1');
    driver.wait(400);
    expect(driver.command({ kind: 'release-train', train: 0 })).toBe(null);
    expect(driver.train('T').edge).toBe(1300);
  });
});
