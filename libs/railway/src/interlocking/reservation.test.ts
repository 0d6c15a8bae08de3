import { describe, expect, it } from 'vitest';
import { THROW } from '../testing/session-driver.js';
import { runningCrossing, runningLine } from '../testing/session-settings.js';

/** When both trains of the crossing are booked to leave. */
const DEPARTURE = 52_600;

describe('a reservation', () => {
  it('holds every element and claims every section of the way at once', () => {
    const driver = runningCrossing();
    driver.runTo(DEPARTURE);
    expect(driver.heldBy('P')).toEqual(['W', 'TW', 'M']);
    for (const section of ['s-TW', 'm1', 'm2', 'm3']) expect(driver.section(section).claim).toBe(0);
    expect(driver.state.counts.grants).toBe(2);
  });

  it('holds nothing of a way of which one part is not free', () => {
    const driver = runningCrossing();
    driver.section('m3').belief = 'occupied';
    driver.section('s3').belief = 'occupied';
    driver.runTo(DEPARTURE + 10_000);
    expect(driver.heldBy('P')).toEqual(['W']);
    expect(driver.section('m1').claim).toBe(-1);
    expect(driver.element('TW')).toMatchObject({ holder: -1, position: null, proof: 'none' });
    expect(driver.train('P').wait).toMatchObject({ kind: 'section-occupied' });
  });

  it('is never made of what another train holds', () => {
    const driver = runningCrossing();
    driver.runTo(DEPARTURE);
    expect(driver.heldBy('G')).toEqual(['S', 'TE', 'E']);
    driver.wait(60_000);
    expect(driver.heldBy('G').filter((id) => driver.heldBy('P').includes(id))).toEqual([]);
  });
});

describe('authority', () => {
  it('reaches block by block as far as everything is proven', () => {
    const driver = runningLine();
    driver.wait(10_300);
    expect(driver.train('T')).toMatchObject({ authorised: 2, mark: 3000 - 60, limit: 3000 - 10 });
  });

  it('ends before an element that is not proven, and nothing beyond it counts', () => {
    const driver = runningCrossing();
    driver.stuck.add(driver.elementIndex('TE'));
    driver.runTo(DEPARTURE + THROW);
    expect(driver.train('P').authorised).toBe(2);
    expect(driver.train('G').authorised).toBe(0);
    expect(driver.train('G').mark).toBe(driver.train('G').path[0]!.end - 60);
    expect(driver.speedOf(12)).toBe(0);
  });

  it('keeps the head clear of where it would foul the turnout ahead', () => {
    const driver = runningCrossing();
    driver.runTo(DEPARTURE + THROW);
    const block = driver.train('P').path.at(-1)!;
    // A turnout's straight leg is fouled up to 90 mm into the block.
    expect(driver.train('P').limit).toBe(block.end - 90);
  });
});
