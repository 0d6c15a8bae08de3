import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cutWait,
  emptyLedger,
  enter,
  partsOf,
  reach,
  type DelayLedger,
  type DelayParts,
} from './delay-ledger.js';

const MINUTE = 60_000;

const sumOf = ({ entry, own, lost, recovered }: DelayParts): number =>
  entry + own + lost.reduce((sum, { time }) => sum + time, 0) - recovered;

function wait(ledger: DelayLedger, train: number, from: number, to: number): void {
  ledger.open = { train, place: 7, why: 'element-held', from };
  cutWait(ledger, to);
  ledger.open = null;
}

describe('the delay of a service', () => {
  it('is what it brought, what was its own, what others cost it, less what it made up', () => {
    const ledger = emptyLedger();
    // Booked at 10, ready at 14 for the service before was late; another kept it until 16.
    wait(ledger, 3, 14 * MINUTE, 16 * MINUTE);
    enter(ledger, 10 * MINUTE, 14 * MINUTE, 16 * MINUTE);
    // Booked 20 on the way, took 23; then a dwell of 5 of which it needed 2.
    reach(ledger, 30 * MINUTE, 39 * MINUTE);
    reach(ledger, 35 * MINUTE, 41 * MINUTE);
    expect(partsOf(ledger)).toEqual({
      entry: 4 * MINUTE,
      own: 3 * MINUTE,
      lost: [{ train: 3, place: 7, why: 'element-held', time: 2 * MINUTE }],
      recovered: 3 * MINUTE,
    });
    expect(sumOf(ledger)).toBe(6 * MINUTE);
  });

  it('is not its own when it only waits for its booked time after being early', () => {
    const ledger = emptyLedger();
    enter(ledger, 0, 0, 0);
    reach(ledger, 20 * MINUTE, 17 * MINUTE);
    expect(partsOf(ledger)).toMatchObject({ own: 0, recovered: 3 * MINUTE });
    reach(ledger, 22 * MINUTE, 22 * MINUTE);
    expect(partsOf(ledger)).toMatchObject({ own: 0, recovered: 0 });
  });

  it('takes waits for the same train, at the same place and for the same reason together', () => {
    const ledger = emptyLedger();
    enter(ledger, 0, 0, 0);
    wait(ledger, 3, 1000, 4000);
    wait(ledger, 4, 4000, 5000);
    wait(ledger, 3, 6000, 7000);
    expect(ledger.lost.map(({ train, time }) => [train, time])).toEqual([
      [3, 4000],
      [4, 1000],
    ]);
  });

  it('keeps what it gave away of an arrival as it was', () => {
    const ledger = emptyLedger();
    enter(ledger, 0, 0, 0);
    wait(ledger, 3, 0, 1000);
    const parts = partsOf(ledger);
    wait(ledger, 3, 1000, 2000);
    expect(parts.lost).toEqual([{ train: 3, place: 7, why: 'element-held', time: 1000 }]);
  });

  // Worked example: first train 10 late, buffer 3 between each two: 10, 7, 4, 1, 0 (arithmetic of buffer times; derived).
  it('is handed on from train to train less the buffer between them', () => {
    const late: number[] = [10 * MINUTE];
    for (let train = 1; train < 5; train++) {
      const ledger = emptyLedger();
      const free = late[train - 1]! - 3 * MINUTE;
      if (free > 0) wait(ledger, train - 1, 0, free);
      enter(ledger, 0, 0, Math.max(0, free));
      reach(ledger, 20 * MINUTE, 20 * MINUTE + Math.max(0, free));
      const { own, entry, recovered } = partsOf(ledger);
      expect({ own, entry, recovered }).toEqual({ own: 0, entry: 0, recovered: 0 });
      late.push(sumOf(ledger));
    }
    expect(late.map((it) => it / MINUTE)).toEqual([10, 7, 4, 1, 0]);
  });

  it('adds up to the millisecond with no term below zero, whatever happens', () => {
    const happening = fc.record({
      booked: fc.nat(600_000),
      took: fc.nat(900_000),
      waits: fc.array(fc.tuple(fc.integer({ min: -1, max: 3 }), fc.nat(300_000)), { maxLength: 3 }),
    });
    fc.assert(
      fc.property(
        fc.array(happening, { minLength: 1, maxLength: 8 }),
        fc.nat(400_000),
        fc.nat(400_000),
        (happenings, readyLate, leftLate) => {
          const ledger = emptyLedger();
          let [booked, fast] = [0, leftLate];
          enter(ledger, 0, readyLate, fast);
          for (const each of happenings) {
            for (const [train, from] of each.waits) {
              ledger.open = { train, place: 1, why: 'element-held', from: fast + from };
              fast += Math.round(each.took / 4);
              cutWait(ledger, fast);
            }
            booked += each.booked;
            fast += each.took;
            reach(ledger, booked, fast);
            const { entry, own, recovered, lost } = partsOf(ledger);
            expect(sumOf(ledger)).toBe(fast - booked);
            expect(Math.min(entry, own, recovered, ...lost.map(({ time }) => time))).toBe(
              Math.max(0, Math.min(entry, own, recovered, ...lost.map(({ time }) => time))),
            );
          }
        },
      ),
    );
  });
});
