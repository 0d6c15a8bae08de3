import { describe, expect, it } from 'vitest';
import { compileLayout } from '../layout/compile-layout.js';
import type { LayoutFile } from '../layout/layout-file.js';
import { edited, elementOf } from '../testing/edit.js';
import { MirrorTraffic } from '../testing/mirror-traffic.js';
import { THROW, type SessionDriver } from '../testing/session-driver.js';
import { dividedLoop, line, runningCrossing, runningLine } from '../testing/session-settings.js';
import { mm } from '../units.js';

/** The passing loop, with an overlap beyond the east end of M, and as long as told. */
const withOverlap = (length = 200): LayoutFile =>
  edited(dividedLoop(), (file) => {
    elementOf(file, 'M', 'block').overlap = { b: length };
  });

/** G is kept in E; P leaves W for M when booked. */
function toM(length?: number): SessionDriver {
  const driver = runningCrossing(withOverlap(length));
  driver.command({ kind: 'hold-train', train: 1, hold: true });
  driver.runTo(52_600);
  return driver;
}

describe('the overlap of a block', () => {
  it('is the elements that its length reaches into, straight on', () => {
    const ids = (length: number): string[] => {
      const layout = compileLayout(withOverlap(length));
      const heading = layout.elementByName.get('M')! * 2;
      return layout.overlaps[heading]!.map(({ element }) => layout.elements[element]!.id);
    };
    expect(ids(200)).toEqual(['TE']);
    expect(ids(231)).toEqual(['TE', 'E']);
    expect(ids(9000)).toEqual(['TE', 'E']);
    expect(compileLayout(dividedLoop()).overlaps.flat()).toEqual([]);
  });

  it('is locked and set with the way, and awaited before there is authority', () => {
    const driver = toM();
    expect(driver.path('P')).toEqual(['W', 'TW', 'M']);
    expect(driver.element('TE')).toMatchObject({ holder: -1, overlapFor: 0, position: 'straight' });
    driver.wait(THROW - 1);
    expect(driver.train('P').authorised).toBe(0);
    driver.wait(1);
    expect(driver.train('P').authorised).toBe(2);
  });

  it('keeps a train without authority while a turnout of it is not proven', () => {
    const driver = runningCrossing(withOverlap());
    driver.command({ kind: 'hold-train', train: 1, hold: true });
    driver.stuck.add(driver.elementIndex('TE'));
    driver.runTo(52_600 + THROW);
    expect(driver.element('TW').proof).toBe('proven');
    expect(driver.train('P').authorised).toBe(0);
    driver.drive('TE', 'straight');
    expect(driver.train('P').authorised).toBe(2);
  });

  it('is given back with the way when a turnout of it fails, which is then tried again', () => {
    const driver = runningCrossing(withOverlap());
    driver.command({ kind: 'hold-train', train: 1, hold: true });
    const turnout = driver.elementIndex('TE');
    driver.stuck.add(turnout);
    driver.runTo(52_600 + 3 * THROW + 1000);
    expect(driver.element('TE')).toMatchObject({ proof: 'failed', overlapFor: -1 });
    expect(driver.path('P')).not.toContain('M');
    driver.stuck.delete(turnout);
    driver.wait(10_000);
    expect(driver.element('TE').proof).toBe('proven');
  });

  it('is proven again after a restart: what its turnout says itself is no throwing by hand', () => {
    const driver = toM();
    driver.wait(THROW + 100);
    driver.feed({ at: driver.now, kind: 'started-again' });
    driver.wait(1000);
    driver.lineUp('w2', 'w3', 'e1', 'e2');
    expect(driver.element('TE')).toMatchObject({ overlapFor: 0, proof: 'proven' });
    expect(driver.train('P').activity.kind).toBe('standing');
  });

  it('lets nobody else a way over it, and frees when the train stands at its mark', () => {
    const driver = toM();
    driver.command({ kind: 'hold-train', train: 1, hold: false });
    driver.wait(THROW + 1000);
    expect(driver.path('G')).toEqual(['E']);
    expect(driver.train('G').wait).toEqual({
      kind: 'element-held',
      element: driver.elementIndex('TE'),
      by: 0,
    });
    new MirrorTraffic(driver).runTo(driver.now + 60_000);
    expect(driver.element('TE').overlapFor).toBe(-1);
    expect(driver.path('G')).not.toEqual(['E']);
  });

  it('must be clear of trains before a way ends there', () => {
    const driver = toM(300);
    expect(driver.path('P')).not.toContain('M');
    expect(driver.element('TE').overlapFor).toBe(-1);
  });

  it('frees when the way is given back', () => {
    const driver = toM();
    driver.command({ kind: 'give-back-route', train: 0 });
    driver.wait(8000);
    expect(driver.path('P')).toEqual(['W']);
    expect(driver.element('TE').overlapFor).toBe(-1);
    expect(driver.train('P').overlap).toEqual([]);
  });

  it('stops the train when its turnout is thrown by hand', () => {
    const driver = toM();
    driver.wait(THROW + 100);
    driver.drive('TE', 'diverging');
    expect(driver.train('P').activity).toEqual({
      kind: 'halted',
      why: 'TE beside its way was thrown by hand to diverging',
    });
  });

  it('turns into the way when that leads on', () => {
    const driver = runningLine(
      edited(line(), (file) => {
        elementOf(file, 'B', 'block').overlap = { b: mm(100) };
      }),
    );
    driver.wait(10_300);
    expect(driver.path('T')).toEqual(['A', 'B', 'C']);
    expect(driver.train('T').overlap).toEqual([]);
    expect(driver.element('C')).toMatchObject({ holder: 0, overlapFor: -1 });
  });
});
