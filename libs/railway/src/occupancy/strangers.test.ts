import { describe, expect, it } from 'vitest';
import { edited, elementOf } from '../testing/edit.js';
import { SessionDriver } from '../testing/session-driver.js';
import { line, oneTrain, runningCrossing, runningLine } from '../testing/session-settings.js';
import { timetableOf } from '../testing/timetable-parts.js';
import { candidates, strangers } from './strangers.js';

describe('a section that nobody holds and that becomes occupied', () => {
  it('is an obstacle with an alarm; trains elsewhere go on', () => {
    const driver = runningLine();
    driver.wait(10_300);
    driver.occupied('d2');
    expect(driver.section('d2').unidentified).toMatch(/no train has authority there/);
    expect(driver.alarms()).toEqual(['Section d2 is occupied by nobody known.']);
    expect(driver.state.session.phase.kind).toBe('running');
    expect(driver.train('T').activity.kind).toBe('moving');
    expect(strangers(driver)).toMatchObject([{ block: driver.elementIndex('D'), candidates: [] }]);
  });

  it('stops everything when it is next to a train, which may have moved', () => {
    const driver = runningLine();
    driver.wait(10_300);
    expect(driver.path('T')).toEqual(['A', 'B', 'C']);
    expect(candidates(driver, driver.sectionIndex('d1'))).toEqual([
      { train: 0, why: 'it stands next to it', share: 1 },
    ]);
    driver.occupied('d1');
    expect(driver.train('T').activity.kind).toBe('halted');
    expect(driver.state.session.phase.kind).toBe('stopped');
  });

  it('looks for neighbours over turnouts and behind a train too', () => {
    const driver = runningCrossing();
    const near = (section: string) =>
      candidates(driver, driver.sectionIndex(section)).map(({ train }) => train);
    expect(near('s-TW')).toEqual([0]);
    expect(near('s-TE')).toEqual([1]);
    expect(near('m2')).toEqual([]);
  });

  it('looks for them where trains may not run, too: one may have rolled back', () => {
    const oneWay = edited(line(), (file) => {
      for (const id of ['A', 'B', 'C', 'D']) elementOf(file, id, 'block').directions = 'a-to-b';
    });
    const driver = new SessionDriver(oneWay, oneTrain(), timetableOf([], {}, { T: 'B>b' }));
    expect(candidates(driver, driver.sectionIndex('a2')).map(({ train }) => train)).toEqual([0]);
  });

  it('may be a train that was taken off the layout', () => {
    const driver = runningLine();
    driver.command({ kind: 'stop-all' });
    driver.wait(5000);
    driver.command({ kind: 'power-up' });
    driver.wait(2500);
    expect(driver.command({ kind: 'confirm-absent', train: 0 })).toBe(null);
    expect(candidates(driver, driver.sectionIndex('d2'))).toEqual([
      { train: 0, why: 'it was taken off the layout', share: 1 },
    ]);
  });

  it('is told apart by a decoder that answers there, and still is an obstacle', () => {
    const driver = runningLine();
    driver.occupied('d2');
    driver.report('d2', 3);
    expect(driver.section('d2').unidentified).toBe(
      'Section d2 is occupied without authority; the decoder of T answered there.',
    );
    driver.wait(10_300);
    expect(driver.path('T')).not.toContain('D');
  });

  it('is forgotten when it reads free, or when a person found it clear', () => {
    const driver = runningLine();
    driver.occupied('d2');
    driver.free('d2');
    driver.wait(400);
    expect(driver.section('d2').unidentified).toBe(null);
    expect(driver.alarms()).toEqual([]);
    driver.occupied('d2');
    const clear = { kind: 'confirm-clear', block: driver.elementIndex('D') } as const;
    expect(driver.command(clear)).toBe(null);
    expect(driver.section('d2')).toMatchObject({ belief: 'clear', unidentified: null });
    expect(driver.alarms()).toEqual([]);
    expect(driver.command(clear)).toBe('not-strange');
  });

  it('is asked about in the way of a train: the train waits for it', () => {
    const driver = runningLine();
    driver.occupied('c2');
    driver.wait(10_300);
    expect(driver.path('T')).toEqual(['A', 'B']);
    expect(driver.train('T').wait).toEqual({
      kind: 'section-occupied',
      section: driver.sectionIndex('c2'),
      belief: 'occupied',
    });
  });
});
