import { describe, expect, it } from 'vitest';
import { edited, elementOf, mutable } from '../testing/edit.js';
import { detection } from '../testing/layout-parts.js';
import { MirrorTraffic } from '../testing/mirror-traffic.js';
import type { SessionDriver } from '../testing/session-driver.js';
import { line, runningLine } from '../testing/session-settings.js';
import { kmPerH, mmPerS, um } from '../units.js';
import { headAt, furthestHead } from './train-motion.js';
import { limitsAhead } from './limits.js';
import { shortfall } from './profile.js';
import { Writer } from '../session/writer.js';

const head = (driver: SessionDriver): number =>
  headAt(driver.world.models[0]!, driver.train('T'), driver.now) / 1000;

/** The speed steps sent to T, one after the other. */
const steps = (driver: SessionDriver): number[] =>
  driver.sent.flatMap(({ command }) => (command.kind === 'set-speed' ? [command.step] : []));

describe('a train under way', () => {
  it('stops in two phases: to creeping speed, then at its mark', () => {
    const driver = runningLine();
    new MirrorTraffic(driver).runTo(100_000);
    expect(driver.path('T').at(-1)).toBe('D');
    expect(driver.train('T').activity.kind).toBe('standing');
    const [creeping, stop] = steps(driver).slice(-2);
    expect(stop).toBe(0);
    expect(creeping).toBeGreaterThan(0);
    expect(creeping).toBeLessThan(Math.max(...steps(driver)) / 3);
    const { mark, limit } = driver.train('T');
    const model = driver.world.models[0]!;
    const short = Math.min(
      mark - head(driver),
      limit - furthestHead(model, driver.train('T'), driver.now),
    );
    expect(short).toBeLessThanOrEqual(shortfall(model) / 1000);
  });

  it('never passes its limit, as far as it can have got', () => {
    const driver = runningLine();
    let least = Infinity;
    new MirrorTraffic(driver).runTo(100_000, () => {
      const train = driver.train('T');
      const reached = furthestHead(driver.world.models[0]!, train, driver.now);
      least = Math.min(least, train.limit - reached);
    });
    expect(least).toBeGreaterThanOrEqual(0);
  });

  it('is proven standing only after its longest stopping time', () => {
    const driver = runningLine();
    driver.wait(10_300);
    driver.occupied('b1');
    driver.wait(2000);
    driver.command({ kind: 'stop-all' });
    driver.wait(300);
    expect(driver.train('T').activity.kind).toBe('moving');
    expect(driver.command({ kind: 'resume' })).toBe('still-moving');
    driver.wait(2500);
    expect(driver.train('T').activity.kind).toBe('standing');
    expect(driver.command({ kind: 'resume' })).toBe(null);
    expect(driver.speedOf(3)).toBeGreaterThan(0);
  });

  it('runs under a limit from the head’s entry until its tail has left', () => {
    const slow = edited(line(), (file) => {
      elementOf(file, 'B', 'block').speedLimit = kmPerH(30);
    });
    const driver = runningLine(slow);
    driver.wait(10_300);
    const w = new Writer(driver.world, driver.state, driver.now, 0);
    // 30 km/h in 1:87 is 30 × 1000000 ÷ 3600 ÷ 87 mm/s.
    const limit = Math.round((30 * 1_000_000) / 3600 / 87);
    expect(limitsAhead(w, 0)).toEqual([
      { from: um(0), speed: mmPerS(260) },
      { from: um(1_000_000), speed: mmPerS(limit) },
      { from: um((2000 + 440) * 1000), speed: mmPerS(260) },
    ]);
  });
});

describe('an overdue edge', () => {
  it('means a stalled train: it is stopped, keeps all its track, and a person is told', () => {
    const driver = runningLine();
    driver.wait(10_300);
    driver.occupied('b1');
    driver.wait(60_000);
    expect(driver.train('T').activity).toEqual({
      kind: 'halted',
      why: 'it was not seen in section b2 when it should have been',
    });
    expect(driver.speedOf(3)).toBe(0);
    expect(driver.heldBy('T').slice(0, 3)).toEqual(['A', 'B', 'C']);
    expect(driver.alarms()).toEqual([
      'T was stopped: it was not seen in section b2 when it should have been.',
    ]);
    expect(driver.state.session.phase.kind).toBe('running');
  });

  it('lets the train go on when a person says so, from wherever it may be', () => {
    const driver = runningLine();
    driver.wait(10_300);
    driver.occupied('b1');
    driver.wait(60_000);
    expect(driver.command({ kind: 'release-train', train: 0 })).toBe(null);
    expect(driver.alarms()).toEqual([]);
    expect(driver.train('T').reckoning.slow[0].position).toBe(1_000_000);
    expect(furthestHead(driver.world.models[0]!, driver.train('T'), driver.now)).toBeGreaterThan(
      1300,
    );
    expect(driver.speedOf(3)).toBeGreaterThan(0);
    driver.wait(2000);
    driver.occupied('b2');
    expect(driver.train('T')).toMatchObject({ edge: 1300, activity: { kind: 'moving' } });
  });

  it('is no stall when the train has been told to stop', () => {
    const driver = runningLine();
    driver.wait(10_300);
    driver.occupied('b1');
    driver.command({ kind: 'stop-all' });
    driver.wait(60_000);
    expect(driver.alarms()).toEqual([]);
    expect(driver.train('T').activity.kind).toBe('standing');
  });
});

describe('a train that came to rest short of a section it should have reached', () => {
  it('draws up once that section has read free for its hold-off', () => {
    const marked = edited(line(), (file) => {
      elementOf(file, 'D', 'block').detection = mutable(detection(['d1', 900], ['d2', 100]));
    });
    const driver = runningLine(marked);
    const traffic = new MirrorTraffic(driver);
    const stood: number[] = [];
    const drewUp: number[] = [];
    traffic.runTo(120_000, () => {
      const { edge, activity, path } = driver.train('T');
      if (driver.world.layout.elements[path.at(-1)!.element]!.id !== 'D') return;
      if (edge === 3000 && activity.kind === 'standing') stood.push(driver.now);
      if (edge === 3000 && activity.kind === 'moving' && stood.length > 0) drewUp.push(driver.now);
    });
    const worstDelayAndHoldOff = 50 + 400;
    expect(drewUp[0]! - stood[0]!).toBe(worstDelayAndHoldOff);
    expect(driver.train('T')).toMatchObject({ edge: 3900, leg: 1, activity: { kind: 'standing' } });
    expect(driver.alarms()).toEqual([]);
  });
});

describe('stopping', () => {
  function underWay(): SessionDriver {
    const driver = runningLine();
    driver.wait(10_300);
    driver.occupied('b1');
    driver.wait(1000);
    return driver;
  }

  it('by holding departures lets trains run to their next call', () => {
    const driver = underWay();
    driver.command({ kind: 'hold-departures', hold: true });
    expect(driver.speedOf(3)).toBeGreaterThan(0);
    expect(driver.state.session.phase.kind).toBe('running');
    const before = runningLine();
    before.command({ kind: 'hold-departures', hold: true });
    before.wait(60_000);
    expect(before.train('T').wait).toEqual({ kind: 'departures-held' });
    before.command({ kind: 'hold-departures', hold: false });
    expect(before.speedOf(3)).toBeGreaterThan(0);
  });

  it('by stop all brakes every train, with power and detection on', () => {
    const driver = underWay();
    const count = driver.sent.length;
    driver.command({ kind: 'stop-all' });
    expect(driver.sentSince(count)[0]).toEqual({ kind: 'stop-all' });
    expect(driver.speedOf(3)).toBe(0);
    expect(driver.sentSince(count).some(({ kind }) => kind === 'set-power')).toBe(false);
    driver.wait(5000);
    driver.occupied('b2');
    expect(driver.section('b2').belief).toBe('occupied');
    expect(driver.heldBy('T')).toEqual(['A', 'B', 'C']);
    expect(driver.speedOf(3)).toBe(0);
  });

  it('by cutting power switches every district off and releases nothing', () => {
    const driver = underWay();
    const count = driver.sent.length;
    driver.command({ kind: 'cut-power' });
    expect(driver.sentSince(count)[0]).toEqual({ kind: 'set-power', district: 0, on: false });
    driver.wait(60_000);
    expect(driver.heldBy('T')).toEqual(['A', 'B', 'C']);
    expect(driver.train('T')).toMatchObject({ confirmed: false, adrift: true });
    expect(driver.state.session.phase.kind).toBe('powerless');
  });
});
