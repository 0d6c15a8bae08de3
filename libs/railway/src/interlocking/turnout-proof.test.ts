import { describe, expect, it } from 'vitest';
import { THROW, type SessionDriver } from '../testing/session-driver.js';
import { dividedLoop, linedUpCrossing, runningCrossing } from '../testing/session-settings.js';
import { edited, elementOf } from '../testing/edit.js';

/** The test turnouts take 800 ms at most; the proof is awaited 300 ms longer. */
const OVERDUE = 1100;
const RETRY = 5000;
/** When both trains are booked to leave. */
const DEPARTURE = 52_600;

/** Just after P was granted the way over TW into M, and G over TE into S. */
function departing(
  change: (driver: SessionDriver) => void = () => {},
  layout = dividedLoop(),
): SessionDriver {
  const driver = runningCrossing(layout);
  change(driver);
  driver.runTo(DEPARTURE);
  expect(driver.path('P')).toEqual(['W', 'TW', 'M']);
  return driver;
}

const throwsOf = (driver: SessionDriver, id: string): unknown[] =>
  driver.sent
    .filter(
      ({ command }) => command.kind === 'set-drive' && command.element === driver.elementIndex(id),
    )
    .map(({ at }) => at - DEPARTURE);

describe('a drive with feedback', () => {
  it('gives authority only when it is proven', () => {
    const driver = departing();
    expect(driver.element('TW')).toMatchObject({ position: 'straight', proof: 'moving' });
    expect(driver.train('P').authorised).toBe(0);
    expect(driver.train('P').wait).toEqual({
      kind: 'turnout-moving',
      element: driver.elementIndex('TW'),
    });
    driver.wait(THROW - 1);
    expect(driver.speedOf(3)).toBe(0);
    driver.wait(1);
    expect(driver.element('TW').proof).toBe('proven');
    expect(driver.train('P').authorised).toBe(2);
    expect(driver.speedOf(3)).toBeGreaterThan(0);
  });

  it('is not commanded again when it is proven there already', () => {
    const driver = departing((it) => {
      it.element('TW').position = 'straight';
      it.element('TW').proof = 'proven';
    });
    expect(throwsOf(driver, 'TW')).toEqual([]);
    expect(driver.train('P').authorised).toBe(2);
  });

  it('is not proven by a feedback of another position or of none', () => {
    const driver = departing((it) => it.stuck.add(it.elementIndex('TW')));
    driver.drive('TW', null);
    driver.drive('TW', 'diverging');
    expect(driver.element('TW').proof).toBe('moving');
    driver.drive('TW', 'straight');
    expect(driver.element('TW').proof).toBe('proven');
  });

  it('is commanded twice, then failed; the route is given back and the order restored', () => {
    const driver = departing((it) => it.stuck.add(it.elementIndex('TW')));
    const node = driver.train('P').nodes[0];
    expect(driver.state.dispatching.order.filter(({ train }) => train === 0)).toHaveLength(1);
    driver.wait(2 * OVERDUE - 1);
    expect(throwsOf(driver, 'TW')).toEqual([0, OVERDUE]);
    expect(driver.path('P')).toEqual(['W', 'TW', 'M']);
    driver.wait(1);
    expect(driver.element('TW')).toMatchObject({ proof: 'failed', holder: -1 });
    expect(driver.alarms()).toEqual(['TW is not proven straight.']);
    expect(driver.path('P')).toEqual(['W']);
    expect(driver.element('M').holder).toBe(-1);
    expect(driver.train('P').node).toBe(node);
    expect(driver.state.dispatching.order.filter(({ train }) => train === 0)).toHaveLength(2);
    expect(driver.state.dispatching.proven).toBe(true);
    expect(driver.train('P').wait).toEqual({
      kind: 'turnout-failed',
      element: driver.elementIndex('TW'),
    });
  });

  it('is tried again by itself every few seconds, and the train goes once it is mended', () => {
    const driver = departing((it) => {
      it.stuck.add(it.elementIndex('TW'));
      it.command({ kind: 'hold-train', train: 1, hold: true });
    });
    driver.wait(2 * OVERDUE + RETRY + OVERDUE + 100);
    expect(driver.alarms()).toHaveLength(1);
    driver.stuck.clear();
    driver.wait(RETRY + OVERDUE);
    expect(driver.alarms()).toEqual([]);
    expect(driver.path('P')).toEqual(['W', 'TW', 'M']);
    expect(driver.train('P').authorised).toBe(2);
  });

  it('is never commanded while a train stands on it', () => {
    const driver = departing((it) => it.stuck.add(it.elementIndex('TW')));
    driver.wait(2 * OVERDUE);
    driver.section('s-TW').belief = 'occupied';
    const before = throwsOf(driver, 'TW').length;
    driver.wait(10 * RETRY);
    expect(throwsOf(driver, 'TW')).toHaveLength(before);
  });

  it('that is proven by hand after it failed lets the train go at once', () => {
    const driver = departing((it) => it.stuck.add(it.elementIndex('TW')));
    driver.wait(2 * OVERDUE + 10);
    driver.drive('TW', 'straight');
    driver.wait(0);
    expect(driver.alarms()).toEqual([]);
    expect(driver.train('P').authorised).toBe(2);
  });
});

describe('a drive that loses its proof', () => {
  it('is believed where it says it is, while nobody holds it', () => {
    const driver = linedUpCrossing();
    driver.drive('TW', 'diverging');
    expect(driver.element('TW')).toMatchObject({ position: 'diverging', proof: 'proven' });
    driver.drive('TW', null);
    expect(driver.element('TW')).toMatchObject({ position: null, proof: 'none' });
    expect(driver.alarms()).toEqual([]);
  });

  it('under a held route stops the train, which keeps its track', () => {
    const driver = departing();
    driver.wait(THROW + 100);
    expect(driver.train('P').activity.kind).toBe('moving');
    driver.drive('TW', null);
    expect(driver.train('P').activity).toEqual({
      kind: 'halted',
      why: 'TW on its way lost its proof',
    });
    expect(driver.speedOf(3)).toBe(0);
    expect(driver.path('P')).toEqual(['W', 'TW', 'M']);
    expect(driver.alarms()).toContain('TW lost its proof under the way of P.');
    expect(driver.train('G').activity.kind).toBe('moving');
  });

  it('keeps the train until it is set right', () => {
    const driver = departing();
    driver.wait(THROW + 100);
    driver.drive('TW', 'diverging');
    driver.wait(3000);
    expect(driver.command({ kind: 'release-train', train: 0 })).toBe('not-proven');
    expect(driver.speedOf(3)).toBe(0);
    driver.drive('TW', 'straight');
    expect(driver.command({ kind: 'release-train', train: 0 })).toBe(null);
    expect(driver.speedOf(3)).toBeGreaterThan(0);
  });

  it('keeps the train through a power cut too', () => {
    const driver = departing();
    driver.wait(THROW + 100);
    driver.command({ kind: 'cut-power' });
    driver.wait(5000);
    driver.drive('TW', 'diverging');
    driver.lineUp('w3', 'e1');
    driver.command({ kind: 'confirm-place', train: 0, heading: driver.heading('M>b') });
    driver.command({ kind: 'confirm-place', train: 1, heading: driver.heading('S>a') });
    expect(driver.command({ kind: 'resume' })).toBe(null);
    driver.wait(100);
    expect(driver.train('P').activity.kind).toBe('halted');
    expect(driver.speedOf(3)).toBe(0);
    expect(driver.train('G').activity.kind).toBe('moving');
  });
});

describe('a drive without feedback', () => {
  const blind = () =>
    edited(dividedLoop(), (file) => {
      elementOf(file, 'TW', 'turnout').drive.feedback = false;
    });

  it('is presumed in position after its longest throw, and shown so', () => {
    const driver = departing(undefined, blind());
    driver.wait(OVERDUE - 1);
    expect(driver.train('P').authorised).toBe(0);
    driver.wait(1);
    expect(driver.element('TW').proof).toBe('presumed');
    expect(driver.train('P').authorised).toBe(2);
  });

  it('is commanded anew for every route, wherever it is presumed to be', () => {
    const driver = departing((it) => {
      it.element('TW').position = 'straight';
      it.element('TW').proof = 'presumed';
    }, blind());
    expect(throwsOf(driver, 'TW')).toEqual([0]);
    expect(driver.train('P').authorised).toBe(0);
  });
});
