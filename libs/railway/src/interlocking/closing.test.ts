import { describe, expect, it } from 'vitest';
import { runningCrossover } from '../testing/crossover.js';
import { THROW, type SessionDriver } from '../testing/session-driver.js';
import { runningCrossing, runningLine } from '../testing/session-settings.js';
import { isForWork } from './for-work.js';

/** When both trains of the passing loop are booked to leave, ms. */
const DEPARTURE = 52_600;

function close(driver: SessionDriver, id: string, reason = 'rail joint'): string | null {
  return driver.command({ kind: 'close-track', element: driver.elementIndex(id), reason });
}

const reopen = (driver: SessionDriver, id: string): string | null =>
  driver.command({ kind: 'reopen-track', element: driver.elementIndex(id) });

const mayWork = (driver: SessionDriver, id: string): boolean =>
  isForWork(driver.state, driver.elementIndex(id));

const logged = (driver: SessionDriver): string[] =>
  driver.effects.flatMap((effect) => (effect.kind === 'log' ? [effect.text] : []));

describe('track closed for work', () => {
  it('gets no way set over it; trains wait and say for what it is closed', () => {
    const driver = runningLine();
    expect(close(driver, 'B')).toBe(null);
    expect(mayWork(driver, 'B')).toBe(true);
    driver.wait(30_000);
    expect(driver.path('T')).toEqual(['A']);
    expect(driver.train('T').wait).toEqual({
      kind: 'possession',
      element: driver.elementIndex('B'),
      name: 'rail joint',
    });
    expect(driver.command({ kind: 'set-route', train: 0, block: driver.elementIndex('B') })).toBe(
      'possession',
    );
  });

  it('lets them go when it is reopened', () => {
    const driver = runningLine();
    close(driver, 'B');
    driver.wait(30_000);
    expect(reopen(driver, 'B')).toBe(null);
    driver.wait(10);
    expect(driver.path('T').slice(0, 2)).toEqual(['A', 'B']);
    expect(driver.speedOf(3)).toBeGreaterThan(0);
  });

  it('is run round where another track leads on', () => {
    const driver = runningCrossing();
    close(driver, 'M');
    driver.runTo(DEPARTURE + THROW + 10);
    const taken = [...driver.path('P'), ...driver.path('G')];
    expect(taken).toContain('S');
    expect(taken).not.toContain('M');
  });

  it('is given back by a train that has it only reserved', () => {
    const driver = runningCrossing();
    driver.stuck.add(driver.elementIndex('TW'));
    driver.runTo(DEPARTURE);
    expect(driver.path('P')).toEqual(['W', 'TW', 'M']);
    expect(close(driver, 'M')).toBe(null);
    expect(driver.element('M').holder).toBe(-1);
    expect(mayWork(driver, 'M')).toBe(true);
    driver.wait(10);
    expect(driver.path('P')).not.toContain('M');
  });

  it('is kept by a train that has authority there until its tail is clear', () => {
    const driver = runningLine();
    driver.wait(10_300);
    expect(driver.path('T')).toEqual(['A', 'B', 'C']);
    expect(close(driver, 'B')).toBe(null);
    expect(mayWork(driver, 'B')).toBe(false);
    expect(driver.train('T').activity.kind).toBe('moving');
    driver.wait(1500);
    driver.occupied('b1');
    driver.wait(2500);
    driver.occupied('b2');
    driver.free('a2', 'b1');
    driver.wait(3600);
    driver.occupied('c1');
    driver.wait(2500);
    driver.occupied('c2');
    driver.wait(1500);
    driver.free('b2');
    driver.wait(500);
    expect(driver.heldBy('T')).not.toContain('B');
    expect(mayWork(driver, 'B')).toBe(true);
    expect(logged(driver)).toContain('B is closed now: rail joint. Work may begin.');
  });

  it('is a turnout that nothing commands any more', () => {
    const driver = runningCrossover();
    close(driver, 'T2', 'new point motor');
    driver.runTo(12_600 + THROW);
    const commanded = driver.sent.filter(
      ({ command }) =>
        command.kind === 'set-drive' && command.element === driver.elementIndex('T2'),
    );
    expect(commanded).toEqual([]);
    expect(driver.element('T2').flankFor).toEqual([]);
    expect(driver.train('P').authorised).toBe(2);
  });

  it('is no turnout yet while it protects a way', () => {
    const driver = runningCrossover();
    driver.runTo(12_600 + THROW);
    expect(driver.element('T2').flankFor).toEqual([0]);
    expect(close(driver, 'T2')).toBe(null);
    expect(mayWork(driver, 'T2')).toBe(false);
  });

  it('may have its turnout thrown by hand without any alarm, and proves it anew when reopened', () => {
    const driver = runningCrossing();
    driver.drive('TW', 'straight');
    close(driver, 'TW');
    driver.drive('TW', 'diverging');
    driver.drive('TW', null);
    driver.drive('TW', 'straight');
    expect(driver.alarms()).toEqual([]);
    expect(reopen(driver, 'TW')).toBe(null);
    expect(driver.element('TW')).toMatchObject({ position: null, proof: 'none' });
    driver.runTo(DEPARTURE);
    expect(driver.element('TW').proof).toBe('moving');
  });

  it('stays closed through a power cut', () => {
    const driver = runningLine();
    close(driver, 'C', 'ballast');
    driver.command({ kind: 'cut-power' });
    driver.wait(1000);
    driver.lineUp('a2');
    driver.report('a2', 3);
    expect(driver.command({ kind: 'resume' })).toBe(null);
    driver.wait(30_000);
    expect(driver.element('C').possession).toBe('ballast');
    expect(driver.heldBy('T')).not.toContain('C');
  });
});

describe('closing is refused', () => {
  it('without a reason, and with one that nobody could read on a diagram', () => {
    const driver = runningLine();
    expect(close(driver, 'B', '  ')).toBe('no-reason');
    expect(close(driver, 'B', 'x'.repeat(61))).toBe('no-reason');
  });

  it('of what is no track, does not exist, or is closed already; reopening of what is open', () => {
    const driver = runningLine();
    expect(close(driver, 'WB')).toBe('not-closable');
    expect(driver.command({ kind: 'close-track', element: 99, reason: 'x' })).toBe(
      'no-such-element',
    );
    expect(reopen(driver, 'B')).toBe('not-closed');
    close(driver, 'B');
    expect(close(driver, 'B')).toBe('closed');
  });
});
