import { describe, expect, it } from 'vitest';
import { speedOf, stepFor } from '../movement/speed-table.js';
import { edited } from '../testing/edit.js';
import { twoTrains } from '../testing/stock-parts.js';
import { mmPerS } from '../units.js';
import { validateStock } from './validate-stock.js';

/**
 * Source: NMRA S-9.2.1 (2012), advanced operations instruction for 128 speed steps, `001 11111 DSSSSSSS`: the seven
 * bits hold 0 for stop, 1 for emergency stop, and 2 to 127 for the steps 1 to 126; D is 1 forward. The data bytes are
 * those of complete packets, derived from that layout (read in a secondary text of the standard).
 */
const PUBLISHED = [
  { step: 50, forward: true, data: 0xb3 },
  { step: 126, forward: false, data: 0x7f },
  { step: 0, forward: true, data: 0x80 },
] as const;

const coded = (step: number, forward: boolean): number =>
  (forward ? 0x80 : 0) | (step === 0 ? 0 : step + 1);

/** Source: NMRA S-9.2 (2004): 28 steps, bits C S S S S; C is the lowest bit, codes 0 and 1 are stop and emergency stop. */
const TWENTY_EIGHT: readonly (readonly [bits: string, step: number])[] = [
  ['00010', 1],
  ['10010', 2],
  ['00011', 3],
  ['01111', 27],
  ['11111', 28],
];

describe('speed steps', () => {
  it.each(PUBLISHED)('code step $step as in the published packet', ({ step, forward, data }) => {
    expect(coded(step, forward)).toBe(data);
  });

  it('end at 126, the last the instruction has a code for', () => {
    const withStep = (step: number) =>
      validateStock(
        edited(twoTrains(), (file) => {
          file.locomotives[0]!.speedTable.forward.at(-1)!.step = step;
        }),
      );
    expect(withStep(126)).toEqual([]);
    expect(coded(126, true) & 0x7f).toBe(0x7f);
    expect(withStep(127)).not.toEqual([]);
  });

  it.each(TWENTY_EIGHT)('28-step code %s is step %i', (bits, step) => {
    const [c, ...s] = bits;
    expect(2 * (Number.parseInt(s.join(''), 2) - 2) + 1 + Number(c)).toBe(step);
  });

  it('are chosen so that no step asked for is faster than the speed wanted', () => {
    const table = [
      { step: 1, speed: mmPerS(10) },
      { step: 126, speed: mmPerS(260) },
    ];
    for (let wanted = 10; wanted <= 260; wanted++) {
      const step = stepFor(table, mmPerS(wanted));
      expect(step).toBeLessThanOrEqual(126);
      expect(speedOf(table, step)).toBeLessThanOrEqual(wanted);
    }
  });
});
