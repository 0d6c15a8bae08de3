import { describe, expect, it } from 'vitest';
import { edited, elementOf, mutable } from '../testing/edit.js';
import { detection } from '../testing/layout-parts.js';
import type { SessionDriver } from '../testing/session-driver.js';
import { MirrorTraffic } from '../testing/mirror-traffic.js';
import { line, runningCrossing, runningLine } from '../testing/session-settings.js';

/** T has come into c1, with its tail proven past A by its length: its head was seen 2000 mm from the rear. */
function inC(): SessionDriver {
  const driver = runningLine();
  driver.wait(10_300);
  driver.occupied('b1');
  driver.wait(2400);
  driver.occupied('b2');
  driver.wait(3300);
  driver.occupied('c1');
  expect(driver.train('T')).toMatchObject({ edge: 2000, tail: 1560 });
  return driver;
}

describe('release behind a train', () => {
  it('waits until the sections of the element read free', () => {
    const driver = inC();
    expect(driver.path('T')[0]).toBe('A');
    driver.free('a2');
    driver.wait(399);
    expect(driver.element('A').holder).toBe(0);
    driver.wait(1);
    expect(driver.element('A').holder).toBe(-1);
    expect(driver.section('a1').claim).toBe(-1);
    expect(driver.section('a2').claim).toBe(-1);
  });

  it('goes from the rear in order: nothing frees in front of what is still locked', () => {
    const driver = inC();
    driver.wait(1500);
    driver.free('b1', 'b2');
    driver.wait(1400);
    driver.occupied('c2');
    driver.wait(1500);
    expect(driver.train('T').tail).toBeGreaterThanOrEqual(1860);
    expect(driver.heldBy('T').slice(0, 2)).toEqual(['A', 'B']);
    driver.free('a2');
    driver.wait(400);
    expect(driver.heldBy('T')[0]).not.toBe('A');
  });

  it('raises an alarm for what stays occupied behind the tail, until it reads free', () => {
    const driver = inC();
    const worst = 100 + 400 + 2000;
    driver.wait(worst - 1);
    expect(driver.alarms()).toEqual([]);
    driver.wait(1);
    expect(driver.alarms()).toEqual(['Section a2 stays occupied though T has passed it whole.']);
    expect(driver.element('A').holder).toBe(0);
    driver.free('a2');
    driver.wait(400);
    expect(driver.alarms().filter((text) => text.includes('a2'))).toEqual([]);
    expect(driver.element('A').holder).toBe(-1);
  });

  it('keeps a turnout until the tail is beyond where a vehicle fouls it', () => {
    const driver = runningCrossing();
    const traffic = new MirrorTraffic(driver);
    const tails: number[] = [];
    let releaseAt = 0;
    traffic.runTo(120_000, () => {
      const { path, tail } = driver.train('P');
      const item = path.find(({ element }) => element === driver.elementIndex('TW'));
      if (item === undefined) return;
      releaseAt = item.releaseAt;
      tails.push(tail);
    });
    expect(releaseAt).toBe(1500 + 230 + 90);
    expect(Math.max(...tails)).toBeLessThan(releaseAt);
    expect(driver.train('P').tail).toBeGreaterThanOrEqual(releaseAt);
    expect(driver.path('P')).not.toContain('TW');
  });
});

describe('a section that sees two elements', () => {
  /** One detector sees the end of B and the beginning of C. */
  const shared = () =>
    edited(line(), (file) => {
      elementOf(file, 'B', 'block').detection = mutable(detection(['b1', 300], ['bc', 700]));
      elementOf(file, 'C', 'block').detection = mutable(detection(['bc', 300], ['c2', 700]));
      file.sections = file.sections.filter(({ id }) => id !== 'b2' && id !== 'c1');
      file.sections.push({ ...file.sections[0]!, id: 'bc', address: 90 });
    });

  it('is claimed for one train only, for as long as it holds either', () => {
    const driver = runningLine(shared());
    driver.wait(10_300);
    expect(driver.section('bc').claim).toBe(0);
    driver.occupied('b1');
    driver.wait(2400);
    driver.occupied('bc');
    driver.wait(6000);
    driver.free('a2', 'b1');
    driver.occupied('c2');
    driver.wait(400);
    expect(driver.path('T')[0]).toBe('B');
    driver.wait(1000);
    expect(driver.train('T')).toMatchObject({ edge: 2300, tail: 1860 });
    expect(driver.section('bc').claim).toBe(0);
  });
});
