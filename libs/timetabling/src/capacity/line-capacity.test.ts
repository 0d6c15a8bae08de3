import { describe, expect, it } from 'vitest';
import { TimetableChecker } from '../check-timetable.js';
import { edited, filesOf } from '../testing/crossings.js';
import { lineCapacity } from './line-capacity.js';

const { layout, stock, timetable } = filesOf('passing-loop');

describe('capacity of a line', () => {
  it('is told for each stretch, with its trains and its share of the session', () => {
    const capacity = lineCapacity(new TimetableChecker(layout, stock).examine(timetable));
    expect(capacity.map(({ place, trains }) => [place, trains])).toEqual(
      expect.arrayContaining([
        ['Lowmarsh – Pennick', 6],
        ['Pennick – Highmarsh', 6],
      ]),
    );
    for (const { taken, period, share } of capacity) {
      expect(period).toBe(65 * 60_000);
      expect(share).toBe(Math.round((1000 * taken) / period));
      // Six trains of about three minutes, and each has to clear before the next.
      expect(taken).toBeGreaterThan(6 * 2.5 * 60_000);
      expect(taken).toBeLessThan(period);
    }
  });

  it('of fewer trains is less', () => {
    const fewer = edited(timetable, (it) => {
      it.services = it.services.filter(({ id }) => !id.endsWith('-3'));
      for (const working of it.workings) working.services.pop();
    });
    const of = (file: typeof timetable): number =>
      lineCapacity(new TimetableChecker(layout, stock).examine(file))[0]!.share;
    expect(of(fewer)).toBeLessThan(of(timetable));
  });
});
