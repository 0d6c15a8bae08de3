import { describe, expect, it } from 'vitest';
import { runningCrossover } from '../testing/crossover.js';
import { THROW, type SessionDriver } from '../testing/session-driver.js';
import { linedUpCrossing, runningCrossing } from '../testing/session-settings.js';

const DEPARTURE = 52_600;

/** P under way from W over TW into M, G from E over TE into S. */
function underWay(): SessionDriver {
  const driver = runningCrossing();
  driver.runTo(DEPARTURE + THROW + 100);
  expect(driver.train('P').activity.kind).toBe('moving');
  return driver;
}

describe('a turnout thrown by hand', () => {
  it('under the way of a train stops it, shows stop, and says who did what', () => {
    const driver = underWay();
    expect(driver.signal('W>b')).toBe('caution');
    driver.drive('TW', 'diverging');
    expect(driver.element('TW')).toMatchObject({ position: 'straight', proof: 'failed' });
    expect(driver.train('P').activity).toEqual({
      kind: 'halted',
      why: 'TW on its way was thrown by hand to diverging',
    });
    expect(driver.speedOf(3)).toBe(0);
    expect(driver.signal('W>b')).toBe('stop');
    expect(driver.path('P')).toEqual(['W', 'TW', 'M']);
    expect(driver.alarms()).toContain('TW was thrown by hand to diverging under the way of P.');
    expect(driver.train('G').activity.kind).toBe('moving');
  });

  it('does not open the signal by itself when it is set right again', () => {
    const driver = underWay();
    driver.drive('TW', 'diverging');
    driver.wait(3000);
    driver.drive('TW', 'straight');
    driver.wait(3000);
    expect(driver.element('TW').proof).toBe('proven');
    expect(driver.signal('W>b')).toBe('stop');
    expect(driver.speedOf(3)).toBe(0);
    expect(driver.command({ kind: 'release-train', train: 0 })).toBe(null);
    expect(driver.signal('W>b')).toBe('caution');
    expect(driver.speedOf(3)).toBeGreaterThan(0);
    expect(driver.alarms().filter((text) => !text.startsWith('G '))).toEqual([]);
  });

  it('where it protects a way stops the train that relies on it', () => {
    const driver = runningCrossover();
    driver.runTo(12_600 + THROW);
    expect(driver.train('P').activity.kind).toBe('moving');
    driver.drive('T2', 'diverging');
    expect(driver.train('P').activity).toEqual({
      kind: 'halted',
      why: 'T2 beside its way was thrown by hand to diverging',
    });
    expect(driver.alarms()).toContain('T2 was thrown by hand to diverging while it protects P.');
  });

  it('where it protected a way is set back by itself', () => {
    const driver = runningCrossover();
    driver.runTo(12_600 + THROW);
    driver.drive('T2', 'diverging');
    driver.wait(5000 + THROW);
    expect(driver.element('T2')).toMatchObject({ position: 'straight', proof: 'proven' });
    expect(driver.alarms()).toEqual([
      'P was stopped: T2 beside its way was thrown by hand to diverging.',
    ]);
  });

  it('in a way that is only reserved makes the train give it back, without a stop', () => {
    const driver = runningCrossover();
    driver.stuck.add(driver.elementIndex('T2'));
    driver.runTo(12_600 + THROW);
    expect(driver.element('T1').proof).toBe('proven');
    expect(driver.train('P').authorised).toBe(0);
    driver.drive('T1', 'diverging');
    expect(driver.train('P').activity.kind).toBe('standing');
    expect(driver.path('P')).toEqual(['A1']);
  });

  it('that was only to protect a way not proven yet leaves that reserved, and is done without', () => {
    const driver = runningCrossover();
    driver.stuck.add(driver.elementIndex('T1'));
    driver.runTo(12_600 + THROW);
    expect(driver.element('T2').proof).toBe('proven');
    expect(driver.train('P').authorised).toBe(0);
    driver.stuck.add(driver.elementIndex('T2'));
    driver.drive('T2', 'diverging');
    expect(driver.path('P')).toEqual(['A1', 'T1', 'B1']);
    expect(driver.train('P').activity.kind).toBe('standing');
    expect(driver.alarms()).toEqual(['T2 was thrown by hand to diverging while it protects P.']);
    driver.drive('T1', 'straight');
    expect(driver.train('P').authorised).toBe(2);
  });

  it('that nobody relies on is believed, and written into the log', () => {
    const driver = linedUpCrossing();
    driver.drive('TW', 'straight');
    driver.drive('TW', 'diverging');
    expect(driver.element('TW')).toMatchObject({ position: 'diverging', proof: 'proven' });
    expect(driver.alarms()).toEqual([]);
    expect(driver.effects.at(-1)).toEqual({
      kind: 'log',
      text: 'TW was thrown by hand to diverging; no train relies on it.',
      train: null,
    });
  });
});
