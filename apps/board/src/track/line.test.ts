import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lineOf, partOf, pathData, pointAt, pointsAlong, reversed } from './line.js';

const point = fc.tuple(fc.integer({ min: -50, max: 50 }), fc.integer({ min: -50, max: 50 }));
const line = fc
  .array(point, { minLength: 2, maxLength: 6 })
  .map(lineOf)
  .filter(({ length }) => length > 0);
const share = fc.double({ min: 0, max: 1, noNaN: true });

describe('a polyline', () => {
  const bent = lineOf([
    [0, 0],
    [0, 10],
    [30, 10],
  ]);

  it('finds a fraction of its way', () => {
    expect(pointAt(bent, 0.125)).toEqual({ point: [0, 5], angle: Math.PI / 2 });
    expect(pointAt(bent, 0.25)).toEqual({ point: [0, 10], angle: 0 });
    expect(pointAt(bent, 1)).toEqual({ point: [30, 10], angle: 0 });
    expect(pointAt(bent, 7).point).toEqual([30, 10]);
  });

  it('keeps its bends in a part of it', () => {
    expect(partOf(bent, 0.125, 0.5)).toEqual([
      [0, 5],
      [0, 10],
      [10, 10],
    ]);
    expect(partOf(bent, 0.5, 0.5)).toEqual([]);
  });

  it('becomes path data', () => {
    expect(pathData(bent.points)).toBe('M0 0L0 10L30 10');
    expect(pathData([])).toBe('');
  });

  it('has parts as long as their share of it', () => {
    fc.assert(
      fc.property(line, share, share, (whole, one, other) => {
        const [from, to] = [Math.min(one, other), Math.max(one, other)];
        const length = lineOf(partOf(whole, from, to)).length;
        expect(length).toBeCloseTo(whole.length * (to - from), 6);
      }),
    );
  });

  it('is divided into equal parts at the points that lie so far along', () => {
    fc.assert(
      fc.property(line, fc.integer({ min: 1, max: 40 }), (whole, parts) => {
        const ends = pointsAlong(whole, parts);
        expect(ends).toHaveLength(parts + 1);
        ends.forEach(([x, y], index) => {
          const [u, v] = pointAt(whole, index / parts).point;
          expect(Math.hypot(x - u, y - v)).toBeLessThan(1e-6);
        });
      }),
    );
    expect(pointsAlong(bent, 0)).toEqual([[0, 0]]);
  });

  it('runs through the same points the other way round', () => {
    fc.assert(
      fc.property(line, share, (whole, at) => {
        const [x, y] = pointAt(reversed(whole), 1 - at).point;
        const [u, v] = pointAt(whole, at).point;
        expect(Math.hypot(x - u, y - v)).toBeLessThan(1e-6);
      }),
    );
  });
});
