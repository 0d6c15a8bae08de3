import { parseClockText } from '@blockbell/railway';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { writeTime } from '../booking/times.js';
import { TimetableChecker } from '../check-timetable.js';
import { edited, filesOf } from '../testing/crossings.js';
import { leastShift } from './least-shift.js';

const { layout, stock, timetable } = filesOf('passing-loop');
const checker = new TimetableChecker(layout, stock);
/** What a minute of each train's services costs: nine less its priority. */
const WEIGHT = { S3: 5, S47: 4 } as const;

it('is never more than what brings a timetable back that nothing is found in', () => {
  const told: number[] = [];
  fc.assert(
    fc.property(
      fc.array(
        fc.tuple(
          fc.constantFrom('S3-1', 'S3-2', 'S3-3', 'S47-1', 'S47-2', 'S47-3'),
          fc.nat(2),
          fc.integer({ min: 1, max: 8 }),
        ),
        { minLength: 1, maxLength: 3 },
      ),
      (breaks) => {
        let cost = 0;
        const broken = edited(timetable, ({ services }) => {
          for (const [service, from, minutes] of breaks) {
            const weight = WEIGHT[service.slice(0, service.indexOf('-')) as keyof typeof WEIGHT];
            const { calls } = services.find(({ id }) => id === service)!;
            for (const call of calls.slice(from))
              for (const what of ['arrive', 'depart'] as const) {
                if (call[what] === undefined) continue;
                call[what] = writeTime(parseClockText(call[what])! - minutes * 60_000);
                cost += weight * minutes;
              }
          }
        });
        fc.pre(checker.faultsOf(broken).length === 0);
        const bounds = { earlier: 0, later: 30 * 60_000 };
        const least = leastShift(checker.examine(broken), bounds, cost + 20, 4_000_000)!;
        expect(least).toBeLessThanOrEqual(cost);
        told.push(least);
      },
    ),
    { numRuns: 40, seed: 5 },
  );
  // And it says something now and then.
  expect(told.filter((least) => least > 0).length).toBeGreaterThan(5);
});
