import { describe, expect, it } from 'vitest';
import { runningLine } from '../testing/session-settings.js';

/** The test layout's detectors hold a section occupied for 400 ms after it reads free. */
const HOLD_OFF = 400;

describe('the detection filter', () => {
  it('believes occupied at once', () => {
    const driver = runningLine();
    driver.occupied('c1');
    expect(driver.section('c1')).toMatchObject({ belief: 'occupied', since: driver.now });
  });

  it('believes free only after the hold-off', () => {
    const driver = runningLine();
    driver.occupied('d2');
    driver.wait(1000);
    driver.free('d2');
    driver.wait(HOLD_OFF - 1);
    expect(driver.section('d2').belief).toBe('occupied');
    driver.wait(1);
    expect(driver.section('d2').belief).toBe('clear');
  });

  it('starts the hold-off afresh when contact comes back in between', () => {
    const driver = runningLine();
    driver.occupied('d2');
    driver.free('d2');
    driver.wait(300);
    driver.occupied('d2');
    const since = driver.section('d2').since;
    driver.wait(5000);
    expect(driver.section('d2')).toMatchObject({ belief: 'occupied', since });
    driver.free('d2');
    driver.wait(HOLD_OFF - 1);
    expect(driver.section('d2').belief).toBe('occupied');
  });

  it('is not held up by a message that only repeats the last one', () => {
    const driver = runningLine();
    driver.occupied('d2');
    driver.free('d2');
    driver.wait(300);
    driver.free('d2');
    driver.wait(100);
    expect(driver.section('d2').belief).toBe('clear');
  });

  it('knows nothing without power, and counts that as occupied', () => {
    const driver = runningLine();
    driver.device({ kind: 'power', district: 0, state: 'off' });
    expect(driver.state.sections.map(({ belief }) => belief)).toEqual(Array(8).fill('unknown'));
    driver.free('c1');
    driver.wait(HOLD_OFF);
    expect(driver.section('c1').belief).toBe('unknown');
  });

  it('knows nothing of a silent bus, and stops everything for it', () => {
    const driver = runningLine();
    driver.wait(11_000);
    driver.device({ kind: 'bus', bus: 'bus1', alive: false });
    expect(driver.section('c1').belief).toBe('unknown');
    expect(driver.speedOf(3)).toBe(0);
    expect(driver.alarms()).toContain('Bus bus1 is silent.');
    driver.device({ kind: 'bus', bus: 'bus1', alive: true });
    expect(driver.section('c1').belief).toBe('unknown');
    expect(driver.alarms()).not.toContain('Bus bus1 is silent.');
  });
});
