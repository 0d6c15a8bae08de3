import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fastTime } from '../units.js';
import { formatClockText, parseClockText } from './clock-text.js';

describe('clock text', () => {
  it.each([
    ['00:00', 0],
    ['09:05', 32_700_000],
    ['23:59:59', 86_399_000],
    ['25:30', 91_800_000],
  ])('%s is %d ms', (text, time) => {
    expect(parseClockText(text)).toBe(time);
    expect(formatClockText(fastTime(time))).toBe(text);
  });

  it.each(['', '9:05', '09:60', '09:05:60', '09.05', '09:05 ', 'noon', '009:05'])(
    'refuses %j',
    (text) => expect(parseClockText(text)).toBeNull(),
  );

  it('can be made to show seconds always', () => {
    expect(formatClockText(fastTime(0), 'always')).toBe('00:00:00');
    expect(formatClockText(fastTime(61_999))).toBe('00:01:01');
  });

  it('reads back what it writes, for any second', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 99 * 3600 }), (second) => {
        expect(parseClockText(formatClockText(fastTime(second * 1000)))).toBe(second * 1000);
      }),
    );
  });
});
