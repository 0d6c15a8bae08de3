import { describe, expect, it } from 'vitest';
import type { LayoutFile } from '../layout/layout-file.js';
import { block, detection, layoutOf } from '../testing/layout-parts.js';
import type { SessionDriver } from '../testing/session-driver.js';
import { line, runningLine } from '../testing/session-settings.js';
import { car, locomotive, stockOf, train } from '../testing/stock-parts.js';

/** T, 440 mm long, has run from A into b2, where its head was seen 1300 mm from the rear end of A. */
function headInB2(driver = runningLine()): SessionDriver {
  driver.wait(10_300);
  driver.occupied('b1');
  driver.wait(2400);
  driver.occupied('b2');
  expect(driver.train('T')).toMatchObject({ edge: 1300, activity: { kind: 'moving' } });
  return driver;
}

describe('the proof of a tail', () => {
  it('follows the furthest edge at the train’s greatest length', () => {
    const driver = headInB2();
    expect(driver.train('T').tail).toBe(1300 - 440);
  });

  it('follows what has gone free behind a train that is seen beyond', () => {
    const driver = headInB2();
    driver.wait(1000);
    driver.free('a2');
    driver.wait(399);
    expect(driver.train('T').tail).toBe(860);
    driver.wait(1);
    expect(driver.train('T').tail).toBe(1000);
    expect(driver.path('T')[0]).toBe('B');
  });

  it('is not given by a lost contact under a train that cannot have left', () => {
    const driver = headInB2();
    driver.free('a2');
    driver.free('b1');
    driver.wait(400);
    expect(driver.section('b1').belief).toBe('clear');
    expect(driver.train('T').tail).toBe(860);
    expect(driver.path('T')[0]).toBe('A');
  });

  it('is not given by a lost contact under a train that stands', () => {
    const driver = runningLine();
    driver.wait(10_300);
    driver.occupied('b1');
    driver.command({ kind: 'stop-all' });
    driver.wait(5000);
    driver.free('a2');
    driver.wait(60_000);
    expect(driver.section('a2').belief).toBe('clear');
    expect(driver.train('T')).toMatchObject({ tail: 560, activity: { kind: 'standing' } });
    expect(driver.heldBy('T')).toEqual(['A', 'B', 'C']);
    driver.occupied('a2');
    expect(driver.alarms()).toEqual([]);
  });

  it('needs the train to be seen beyond the boundary still', () => {
    const driver = headInB2();
    driver.wait(1000);
    driver.free('b1', 'b2');
    driver.wait(400);
    driver.free('a2');
    driver.wait(400);
    expect(driver.train('T').tail).toBe(860);
    driver.occupied('b2');
    expect(driver.train('T').tail).toBe(860);
  });

  it('leaves room behind the boundary for cars that no detector sees', () => {
    const unseen = stockOf(
      [locomotive('L1', 3)],
      [car('wagon', 260, false)],
      [train('T', 'L1 wagon*1', { canReverse: true })],
    );
    const driver = headInB2(runningLine(line(), unseen));
    driver.wait(1000);
    driver.free('a2');
    driver.wait(400);
    expect(driver.train('T').tail).toBe(860);
    driver.wait(700);
    driver.free('b1');
    driver.wait(400);
    expect(driver.train('T').tail).toBe(1300 - 260);
  });

  it('gets nothing from a section that never saw the head pass', () => {
    const driver = runningLine();
    driver.wait(10_300);
    driver.occupied('b1');
    driver.wait(3300);
    driver.occupied('b2');
    driver.wait(2600);
    driver.free('a2');
    driver.occupied('c2');
    expect(driver.train('T')).toMatchObject({ edge: 2300, blind: [driver.sectionIndex('c1')] });
    driver.wait(600);
    driver.free('b1', 'b2');
    driver.wait(600);
    expect(driver.train('T').tail).toBe(2000);
  });

  it('knows which sections saw the head of a train that is led by an unseen car', () => {
    const pushed = stockOf(
      [locomotive('L1', 3)],
      [car('wagon', 260, false)],
      [train('T', 'wagon*1 L1', { canReverse: true })],
    );
    const driver = runningLine(lineWithB(['b1', 200], ['b2', 100], ['b3', 700]), pushed);
    driver.wait(12_800);
    driver.occupied('b1');
    expect(driver.train('T').edge).toBe(1260);
    driver.wait(2500);
    driver.occupied('b3');
    expect(driver.train('T')).toMatchObject({ edge: 1560, blind: [driver.sectionIndex('b2')] });
  });

  it('does not take a section for blind that saw the head and went free since', () => {
    const driver = runningLine(lineWithB(['b1', 40], [null, 660], ['b2', 300]));
    driver.wait(10_300);
    driver.occupied('b1');
    driver.wait(700);
    driver.free('a2', 'b1');
    driver.wait(4000);
    driver.occupied('b2');
    expect(driver.train('T')).toMatchObject({ edge: 1700, tail: 1260, blind: [] });
    expect(driver.path('T')[0]).toBe('B');
  });
});

/** The line with block B divided otherwise. */
function lineWithB(...parts: [string | null, number][]): LayoutFile {
  const { elements, joins, stations } = line();
  const b = block('B', 1000, { detection: detection(...parts) });
  return layoutOf(
    elements.map((element) => (element.id === 'B' ? b : element)),
    joins.map((pair) => pair.join(' ')),
    { stations },
  );
}
