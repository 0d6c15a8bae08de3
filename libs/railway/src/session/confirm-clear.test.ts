import { describe, expect, it } from 'vitest';
import { MirrorTraffic } from '../testing/mirror-traffic.js';
import { SessionDriver } from '../testing/session-driver.js';
import {
  crossing,
  dividedLoop,
  linedUpCrossing,
  runningLine,
} from '../testing/session-settings.js';
import { twoTrains } from '../testing/stock-parts.js';

const clear = (driver: SessionDriver, element: string): string | null =>
  driver.command({ kind: 'confirm-clear', block: driver.elementIndex(element) });

const logged = (driver: SessionDriver): string[] =>
  driver.effects.flatMap((effect) => (effect.kind === 'log' ? [effect.text] : []));

/** T on its way from A, a ghost in d2 that its detector keeps reporting. */
function ghost(): SessionDriver {
  const driver = runningLine();
  driver.wait(10_300);
  driver.occupied('d2');
  return driver;
}

describe('the reset of a false occupancy', () => {
  it('is counted and written down with before and after', () => {
    const driver = ghost();
    expect(clear(driver, 'D')).toBe(null);
    expect(driver.section('d2')).toMatchObject({ belief: 'clear', unidentified: null });
    expect(driver.state.counts.resets).toBe(1);
    expect(logged(driver)).toContain(
      'Reset 1: Ada looked at section d2: occupied before, clear after. The first train over it runs at restricted speed.',
    );
    expect(driver.alarms()).toEqual([]);
  });

  it('holds until the detector says it anew', () => {
    const driver = ghost();
    clear(driver, 'D');
    driver.wait(60_000);
    expect(driver.section('d2').belief).toBe('clear');
    driver.free('d2');
    driver.wait(1000);
    driver.occupied('d2');
    expect(driver.section('d2').belief).toBe('occupied');
    expect(driver.alarms()).toContain('Section d2 is occupied by nobody known.');
  });

  it('is refused where nothing is to be reset', () => {
    const driver = runningLine();
    expect(clear(driver, 'D')).toBe('not-strange');
    expect(clear(driver, 'WB')).toBe('no-such-block');
  });

  it('is refused where a known train may stand', () => {
    const driver = runningLine();
    expect(clear(driver, 'A')).toBe('held');
    expect(driver.section('a2').belief).toBe('occupied');
  });

  it('is refused while a train next to it may still roll', () => {
    const driver = ghost();
    driver.occupied('d1');
    expect(clear(driver, 'D')).toBe('still-moving');
    driver.wait(5000);
    expect(clear(driver, 'D')).toBe(null);
    expect(driver.state.counts.resets).toBe(2);
  });

  it('is refused before detection has settled, without power and with a silent bus', () => {
    const driver = new SessionDriver(dividedLoop(), twoTrains(), crossing());
    expect(clear(driver, 'S')).toBe('no-power');
    driver.command({ kind: 'power-up' });
    driver.wait(100);
    expect(clear(driver, 'S')).toBe('not-settled');
    const silent = linedUpCrossing();
    silent.device({ kind: 'bus', bus: 'bus1', alive: false });
    expect(clear(silent, 'S')).toBe('bus-silent');
    silent.device({ kind: 'bus', bus: 'bus1', alive: true });
    expect(clear(silent, 'S')).toBe('not-settled');
    silent.wait(2500);
    expect(silent.section('m2').belief).toBe('unknown');
    expect(clear(silent, 'S')).toBe(null);
  });

  it('frees what is left occupied behind a train that has passed whole', () => {
    const driver = runningLine();
    driver.wait(10_300);
    driver.occupied('b1');
    driver.wait(2400);
    driver.occupied('b2');
    driver.wait(3000);
    driver.occupied('c1');
    driver.wait(200);
    expect(clear(driver, 'B')).toBe('held');
    driver.free('b1', 'b2');
    driver.wait(10_000);
    expect(driver.path('T')[0]).toBe('A');
    expect(clear(driver, 'A')).toBe(null);
    expect(driver.element('A').holder).toBe(-1);
  });

  it('serves a turnout as well as a block', () => {
    const driver = linedUpCrossing();
    driver.occupied('s-TE');
    expect(clear(driver, 'TE')).toBe(null);
    expect(driver.section('s-TE').belief).toBe('clear');
  });
});

describe('the first train over track that was reset', () => {
  /** T's step when it has run up to full speed in B. */
  function stepInB(driver: SessionDriver): number | null {
    driver.wait(10_300);
    driver.occupied('b1');
    driver.wait(3000);
    return driver.speedOf(3);
  }

  /** A ghost in B, reset. */
  function afterReset(): SessionDriver {
    const driver = runningLine();
    driver.command({ kind: 'hold-train', train: 0, hold: true });
    driver.occupied('b2');
    driver.wait(1000);
    expect(driver.state.session.phase.kind).toBe('running');
    expect(clear(driver, 'B')).toBe(null);
    return driver;
  }

  it('runs at restricted speed', () => {
    const restricted = afterReset();
    restricted.command({ kind: 'hold-train', train: 0, hold: false });
    const free = stepInB(runningLine());
    const slow = stepInB(restricted);
    expect(slow).toBeGreaterThan(0);
    expect(slow).toBeLessThan(free! / 2);
  });

  /** T has come over B, whose b2 was reset and reads free since, into c1; b2 still sees it. */
  function overReset(): SessionDriver {
    const driver = afterReset();
    driver.free('b2');
    driver.wait(1000);
    expect(driver.section('b2').clearByHand).not.toBe(null);
    driver.command({ kind: 'hold-train', train: 0, hold: false });
    driver.wait(10_300);
    driver.occupied('b1');
    driver.wait(12_000);
    driver.occupied('b2');
    expect(driver.section('b2').clearByHand).not.toBe(null);
    driver.wait(12_000);
    driver.occupied('c1');
    driver.free('a2', 'b1');
    return driver;
  }

  it('proves it when it has passed whole and the detector says free, so that the next runs as ever', () => {
    const driver = afterReset();
    driver.free('b2');
    driver.command({ kind: 'hold-train', train: 0, hold: false });
    let seen = 0;
    new MirrorTraffic(driver).runTo(driver.now + 120_000, () => {
      const { belief, clearByHand } = driver.section('b2');
      if (belief !== 'occupied') return;
      seen++;
      expect(clearByHand).not.toBe(null);
    });
    expect(seen).toBeGreaterThan(0);
    expect(driver.train('T').edge).toBeGreaterThan(3000);
    expect(driver.section('b2').clearByHand).toBe(null);
  });

  it('proves nothing by a lost contact while it is still there', () => {
    const driver = overReset();
    driver.free('b2');
    driver.wait(450);
    expect(driver.section('b2').belief).toBe('clear');
    expect(driver.section('b2').clearByHand).not.toBe(null);
  });

  it('proves nothing by a detector that flickers before it comes', () => {
    const driver = afterReset();
    driver.free('b2');
    driver.command({ kind: 'hold-train', train: 0, hold: false });
    driver.wait(10_300);
    expect(driver.section('b2').claim).toBe(0);
    driver.occupied('b2');
    driver.free('b2');
    driver.wait(1000);
    expect(driver.section('b2')).toMatchObject({ belief: 'clear' });
    expect(driver.section('b2').clearByHand).not.toBe(null);
  });
});
