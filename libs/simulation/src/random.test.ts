import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { forkStream, nextBetween, nextChance, nextSigned, nextUint32 } from './random.js';

const draw = (seed: number, name: string, count: number): number[] => {
  const stream = forkStream(seed, name);
  return Array.from({ length: count }, () => nextUint32(stream));
};

describe('seeded streams', () => {
  it('give the same numbers for the same seed and name, others for others', () => {
    expect(draw(7, 'edges', 20)).toEqual(draw(7, 'edges', 20));
    expect(draw(7, 'edges', 20)).not.toEqual(draw(8, 'edges', 20));
    expect(draw(7, 'edges', 20)).not.toEqual(draw(7, 'reports', 20));
  });

  it('stay the same numbers for ever: a change would silently change every kept seed', () => {
    expect(draw(1, 'kept', 3)).toMatchInlineSnapshot(`
      [
        302248115,
        418778081,
        3542975656,
      ]
    `);
  });

  it('do not disturb one another', () => {
    const alone = draw(3, 'a', 10);
    const first = forkStream(3, 'a');
    const second = forkStream(3, 'b');
    const mixed = Array.from({ length: 10 }, () => {
      nextUint32(second);
      return nextUint32(first);
    });
    expect(mixed).toEqual(alone);
  });

  it('are plain data: a copy goes on alike', () => {
    const stream = forkStream(5, 'x');
    nextUint32(stream);
    const copy = { ...stream };
    expect(nextUint32(copy)).toBe(nextUint32(stream));
  });

  it('spread evenly: each of 16 classes within 4 % over 160,000 draws, mean of signed draws near 0', () => {
    const stream = forkStream(11, 'even');
    const classes = Array.from({ length: 16 }, () => 0);
    let sum = 0;
    for (let index = 0; index < 160_000; index += 1) {
      classes[nextBetween(stream, 0, 15)]! += 1;
      sum += nextSigned(stream);
    }
    for (const count of classes) expect(Math.abs(count - 10_000)).toBeLessThan(400);
    expect(Math.abs(sum / 160_000)).toBeLessThan(0.01);
  });

  it('stay in their range, ends included; an empty range gives its least', () => {
    fc.assert(
      fc.property(
        fc.integer(),
        fc.integer({ min: -50, max: 50 }),
        fc.nat(9),
        (seed, least, size) => {
          const stream = forkStream(seed, 'range');
          const drawn = new Set(
            Array.from({ length: 400 }, () => nextBetween(stream, least, least + size)),
          );
          expect(drawn.size).toBe(size + 1);
          expect(Math.min(...drawn)).toBe(least);
          expect(Math.max(...drawn)).toBe(least + size);
          expect(nextBetween(stream, least, least - 1)).toBe(least);
        },
      ),
    );
  });

  it('chance 0 never happens, chance 1000 always', () => {
    const stream = forkStream(1, 'chance');
    for (let index = 0; index < 500; index += 1) {
      expect(nextChance(stream, 0)).toBe(false);
      expect(nextChance(stream, 1000)).toBe(true);
    }
  });
});
