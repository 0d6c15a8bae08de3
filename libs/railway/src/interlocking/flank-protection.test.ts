import { describe, expect, it } from 'vitest';
import { runningCrossover } from '../testing/crossover.js';
import { THROW, type SessionDriver } from '../testing/session-driver.js';

/** When P is booked to leave; Q leaves much later unless told. */
const DEPARTURE = 12_600;
const TRIED = 2200;

function departing(change: (driver: SessionDriver) => void = () => {}): SessionDriver {
  const driver = runningCrossover();
  change(driver);
  driver.runTo(DEPARTURE);
  expect(driver.path('P')).toEqual(['A1', 'T1', 'B1']);
  return driver;
}

describe('flank protection of a way', () => {
  it('turns the protecting turnout away and locks it', () => {
    const driver = departing();
    expect(driver.element('T2')).toMatchObject({
      position: 'straight',
      proof: 'moving',
      holder: -1,
      flankFor: [0],
    });
  });

  it('is awaited before there is authority', () => {
    const driver = departing((it) => it.stuck.add(it.elementIndex('T2')));
    driver.wait(THROW);
    expect(driver.element('T1').proof).toBe('proven');
    expect(driver.train('P').authorised).toBe(0);
    driver.drive('T2', 'straight');
    expect(driver.train('P').authorised).toBe(2);
  });

  it('costs nothing when it is proven already', () => {
    const driver = departing((it) => {
      it.drive('T2', 'straight');
      it.drive('T1', 'straight');
    });
    expect(driver.train('P').authorised).toBe(2);
    expect(driver.sent.some(({ command }) => command.kind === 'set-drive')).toBe(false);
    expect(driver.element('T2').flankFor).toEqual([0]);
  });

  it('is done without where the protecting turnout has failed', () => {
    const driver = departing((it) => it.stuck.add(it.elementIndex('T2')));
    driver.wait(TRIED);
    expect(driver.element('T2').proof).toBe('failed');
    expect(driver.train('P').authorised).toBe(2);
    expect(driver.speedOf(3)).toBeGreaterThan(0);
  });

  it('is done without where another train holds the protecting turnout', () => {
    const driver = runningCrossover('09:30', '09:01');
    driver.runTo(DEPARTURE + THROW);
    expect(driver.train('Q').authorised).toBe(2);
    driver.command({ kind: 'set-clock-ratio', ratio: 60 });
    driver.command({ kind: 'hold-train', train: 1, hold: true });
    driver.wait(40_000);
    expect(driver.element('T2').holder).toBe(1);
    expect(driver.train('P').authorised).toBe(2);
  });

  it('is not turned while a vehicle stands on the protecting turnout', () => {
    const driver = departing((it) => {
      it.section('s-T2').belief = 'occupied';
    });
    driver.wait(THROW);
    expect(
      driver.sent.some(
        ({ command }) =>
          command.kind === 'set-drive' && command.element === driver.elementIndex('T2'),
      ),
    ).toBe(false);
    expect(driver.train('P').authorised).toBe(2);
  });

  it('does not keep a train waiting when another way is set over the turnout meanwhile', () => {
    const driver = runningCrossover('09:01', '09:01');
    driver.stuck.add(driver.elementIndex('T2'));
    driver.runTo(DEPARTURE);
    expect(driver.element('T2').holder).toBe(1);
    driver.wait(THROW);
    expect(driver.train('P').authorised).toBe(2);
    expect(driver.train('Q').authorised).toBe(0);
  });

  it('is unlocked when the train has left the turnout it protected', () => {
    const driver = departing();
    driver.wait(THROW + 200);
    driver.occupied('s-T1');
    driver.wait(2600);
    driver.occupied('b1');
    driver.wait(2000);
    driver.free('s-A1', 's-T1');
    driver.wait(400);
    expect(driver.path('P')).toEqual(['T1', 'B1']);
    expect(driver.element('T2').flankFor).toEqual([0]);
    driver.wait(400);
    driver.occupied('b2');
    expect(driver.path('P')).toEqual(['B1']);
    expect(driver.element('T2').flankFor).toEqual([]);
  });

  it('is looked at anew when the protecting turnout comes to be held for another train', () => {
    const driver = departing((it) => it.stuck.add(it.elementIndex('T2')));
    driver.wait(THROW + 100);
    expect(driver.train('P').authorised).toBe(0);
    driver.command({ kind: 'set-clock-ratio', ratio: 60 });
    driver.element('T2').holder = 1;
    driver.command({ kind: 'hold-departures', hold: true });
    expect(driver.train('P').authorised).toBe(2);
  });
});
