import { expect, it } from 'vitest';
import { MirrorTraffic } from '../testing/mirror-traffic.js';
import { runningLine } from '../testing/session-settings.js';

it('frees what a train had left when power was cut, though that read free only in the line-up', () => {
  const driver = runningLine();
  const traffic = new MirrorTraffic(driver);
  while (driver.train('T').edge < 3300) traffic.runTo(driver.now + 100);
  expect(driver.path('T')).toContain('C');
  driver.command({ kind: 'cut-power' });
  driver.wait(100);
  driver.lineUp('d1', 'd2');
  driver.report('d2', 3);
  expect(driver.command({ kind: 'resume' })).toBeNull();
  expect(driver.path('T')).toEqual(['D']);
  expect(driver.element('C').holder).toBe(-1);
});
