import { describe, expect, it } from 'vitest';
import { balloonLoop, detection, station } from '../testing/layout-parts.js';
import { edited, elementOf, mutable } from '../testing/edit.js';
import { MirrorTraffic } from '../testing/mirror-traffic.js';
import { SessionDriver, THROW } from '../testing/session-driver.js';
import { runningLine } from '../testing/session-settings.js';
import { car, locomotive, stockOf, train } from '../testing/stock-parts.js';
import { service, timetableOf } from '../testing/timetable-parts.js';
import { mm } from '../units.js';

describe('a push-pull train', () => {
  it('runs back with its rear leading, and its locomotive in reverse', () => {
    const driver = runningLine();
    const traffic = new MirrorTraffic(driver);
    traffic.runTo(300_000);
    expect(driver.path('T')).toEqual(['D']);
    expect(driver.train('T')).toMatchObject({ frontLeads: true, leg: 1 });
    traffic.runTo(403_000);
    expect(driver.train('T').frontLeads).toBe(false);
    expect(driver.path('T').slice(0, 2)).toEqual(['D', 'C']);
    const last = driver.sent.findLast(({ command }) => command.kind === 'set-speed')?.command;
    expect(last).toMatchObject({ forward: false });
    traffic.runTo(900_000);
    expect(driver.path('T')).toEqual(['A']);
    expect(driver.train('T').wait).toEqual({ kind: 'finished' });
    expect(driver.state.counts.reversals).toBe(1);
    expect(driver.alarms()).toEqual([]);
  });

  it('begins the proof of its tail anew', () => {
    const driver = runningLine();
    const traffic = new MirrorTraffic(driver);
    traffic.runTo(402_500);
    const before = driver.train('T');
    expect(before.path.at(-1)!.heading).toBe(driver.heading('D>b'));
    const standsAt = before.path.at(-1)!.end - before.mark;
    traffic.runTo(402_600);
    const { tail, edge, path } = driver.train('T');
    expect(path[0]!.heading).toBe(driver.heading('D>a'));
    // As far back as the head may have stood before: up to its limit, 50 mm beyond its mark.
    expect(tail).toBeLessThanOrEqual(standsAt);
    expect(tail).toBeGreaterThanOrEqual(standsAt - 50);
    expect(edge).toBeLessThanOrEqual(standsAt + 440);
  });
});

describe('a reversing section', () => {
  /** T runs from A round the balloon loop and back to A; the loop is seen in four parts. */
  function loop(loopLength = 2500, consist = 'L1 coach*1'): SessionDriver {
    const parts = detection(['l1', 400], ['l2', loopLength - 1200], ['l3', 400], ['l4', 400]);
    const layout = edited(balloonLoop(mm(loopLength)), (file) => {
      elementOf(file, 'L', 'block').detection = mutable(parts);
      elementOf(file, 'A', 'block').detection = mutable(detection(['a1', 1000], ['a2', 500]));
      file.sections = file.sections.filter(({ id }) => id !== 's-L' && id !== 's-A');
      ['l1', 'l2', 'l3', 'l4', 'a1', 'a2'].forEach((id, index) => {
        file.sections.push({ ...file.sections[0]!, id, address: 50 + index });
      });
      file.stations = mutable([station('West', 0, ['A']), station('Loop', 1, ['L'])]);
    });
    const timetable = timetableOf(
      [service('S1', 'West - 09:01', 'Loop 09:04 09:08', 'West 09:20 -')],
      { T: 'S1' },
      { T: 'A>b' },
    );
    const stock = stockOf([locomotive('L1', 3)], [car('coach')], [train('T', consist)]);
    const driver = new SessionDriver(layout, stock, timetable);
    driver.lineUp('a1', 'a2');
    driver.command({ kind: 'confirm-place', train: 0, heading: driver.heading('A>b') });
    return driver;
  }

  it('is matched at the gap being crossed, held while it is bridged, and changed for the way out', () => {
    const driver = loop();
    expect(driver.command({ kind: 'start' })).toBe(null);
    const traffic = new MirrorTraffic(driver);
    traffic.runTo(12_600);
    expect(driver.element('R')).toMatchObject({ holder: 0, proof: 'moving' });
    const wayIn = driver.element('R').position;
    expect(driver.train('T').authorised).toBe(0);
    traffic.runTo(12_600 + THROW);
    expect(driver.train('T').authorised).toBeGreaterThan(0);
    const bridged: boolean[] = [];
    traffic.runTo(300_000, () => {
      const { path, tail, edge } = driver.train('T');
      const into = path.find(({ element }) => element === driver.elementIndex('L'));
      if (into === undefined || driver.element('R').position !== wayIn) return;
      const bridges = tail < into.start && edge >= into.start;
      if (bridges) bridged.push(driver.element('R').holder === 0);
    });
    expect(bridged.length).toBeGreaterThan(0);
    expect(bridged).not.toContain(false);
    expect(driver.element('R').position).not.toBe(wayIn);
    expect(driver.path('T')).toEqual(['A']);
    expect(driver.train('T').wait).toEqual({ kind: 'finished' });
    expect(driver.element('R').holder).toBe(-1);
    expect(driver.alarms()).toEqual([]);
  });

  it('that failed is tried again while the train for which it is to change waits inside it', () => {
    const driver = loop();
    driver.command({ kind: 'start' });
    const traffic = new MirrorTraffic(driver);
    const isInside = (): boolean => driver.path('T').join() === 'L';
    traffic.runTo(300_000, () => {
      if (isInside()) driver.stuck.add(driver.elementIndex('R'));
    });
    expect(driver.element('R').proof).toBe('failed');
    expect(isInside()).toBe(true);
    driver.stuck.clear();
    traffic.runTo(400_000);
    expect(driver.path('T')).toEqual(['A']);
    expect(driver.alarms()).toEqual([]);
  });

  it('is refused to a train too long to come wholly inside it', () => {
    const driver = loop(1300, 'L1 coach*5');
    expect(driver.world.stock.trains[0]!.length).toBe(1480);
    expect(driver.command({ kind: 'start' })).toBe('locked-up');
    expect(driver.element('R').holder).toBe(-1);
  });
});
