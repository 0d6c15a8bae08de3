import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shrink } from './shrink.js';

const PLENTY = 10_000;

describe('a list that is shortened', () => {
  it('keeps exactly what is needed to fail, in its order', () => {
    const list = fc.uniqueArray(fc.integer({ min: 0, max: 200 }), { minLength: 1, maxLength: 60 });
    const drawn = list.chain((whole) =>
      fc.record({ whole: fc.constant(whole), needed: fc.subarray(whole) }),
    );
    fc.assert(
      fc.property(drawn, ({ whole, needed }) => {
        const fails = (part: readonly number[]): boolean =>
          needed.every((each) => part.includes(each));
        expect(shrink(whole, fails, PLENTY)).toEqual(needed);
      }),
    );
  });

  it('still fails where no single thing can be left out, though fewer would do together', () => {
    const fails = (part: readonly number[]): boolean => part.length % 2 === 0 && part.length > 2;
    const left = shrink([1, 2, 3, 4, 5, 6, 7, 8], fails, PLENTY);
    expect(fails(left)).toBe(true);
    expect(left.length).toBeLessThan(8);
  });

  it('is asked about no more often than allowed, and never longer than it was', () => {
    let asked = 0;
    const fails = (part: readonly number[]): boolean => {
      asked++;
      return part.includes(63);
    };
    const whole = Array.from({ length: 64 }, (_, index) => index);
    expect(shrink(whole, fails, 3)).toContain(63);
    expect(asked).toBe(3);
  });
});
