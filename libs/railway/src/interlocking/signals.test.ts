import { describe, expect, it } from 'vitest';
import { THROW } from '../testing/session-driver.js';
import { runningCrossing, runningLine } from '../testing/session-settings.js';

describe('signals', () => {
  it('show stop where no way leads on with authority', () => {
    const driver = runningLine();
    const ends = ['A>b', 'B>b', 'C>b', 'D>a', 'C>a', 'B>a'];
    expect(ends.map((end) => driver.signal(end))).toEqual(ends.map(() => 'stop'));
  });

  it('are none where no route begins', () => {
    const driver = runningLine();
    expect(driver.signal('A>a')).toBe(null);
    expect(driver.signal('D>b')).toBe(null);
  });

  it('show proceed over two blocks and caution over one', () => {
    const driver = runningLine();
    driver.wait(10_300);
    expect(driver.path('T')).toEqual(['A', 'B', 'C']);
    expect(driver.signal('A>b')).toBe('proceed');
    expect(driver.signal('B>b')).toBe('caution');
    expect(driver.signal('C>b')).toBe('stop');
    expect(driver.signal('B>a')).toBe('stop');
  });

  it('show stop again when the head is seen past', () => {
    const driver = runningLine();
    driver.wait(10_300);
    driver.occupied('b1');
    expect(driver.signal('A>b')).toBe('stop');
    expect(driver.sentSince(driver.sent.length - 1)).toEqual([
      { kind: 'set-aspect', heading: driver.heading('A>b'), aspect: 'stop' },
    ]);
  });

  it('stay at stop until every drive of the way is proven', () => {
    const driver = runningCrossing();
    driver.runTo(52_600 + THROW - 1);
    expect(driver.element('TW').holder).toBe(0);
    expect(driver.signal('W>b')).toBe('stop');
    driver.wait(1);
    expect(driver.signal('W>b')).toBe('caution');
  });

  it('close when the train they were opened for is taken off', () => {
    const driver = runningLine();
    driver.wait(10_300);
    driver.command({ kind: 'cut-power' });
    driver.wait(1000);
    driver.lineUp();
    expect(driver.command({ kind: 'confirm-absent', train: 0 })).toBe(null);
    expect(['A>b', 'B>b', 'C>b'].map((end) => driver.signal(end))).toEqual([
      'stop',
      'stop',
      'stop',
    ]);
  });
});

describe('signals of a train that was stopped for a fault', () => {
  // It once got authority and an open signal when its turnout was proven after it had moved without any.
  it('stay at stop when its turnout proves, until a person lets it go', () => {
    const driver = runningCrossing();
    driver.runTo(52_600);
    driver.occupied('s-TW');
    expect(driver.train('P').activity.kind).toBe('halted');
    driver.wait(THROW + 100);
    expect(driver.element('TW').proof).toBe('proven');
    expect(driver.train('P').authorised).toBe(0);
    expect(driver.signal('W>b')).toBe('stop');
  });
});

describe('signals of a session in which nothing may run', () => {
  it('all show stop, and open again when a person resumes', () => {
    const driver = runningLine();
    driver.wait(10_300);
    driver.command({ kind: 'stop-all' });
    expect(['A>b', 'B>b'].map((end) => driver.signal(end))).toEqual(['stop', 'stop']);
    driver.wait(20_000);
    driver.command({ kind: 'resume' });
    expect(['A>b', 'B>b'].map((end) => driver.signal(end))).toEqual(['proceed', 'caution']);
  });
});
