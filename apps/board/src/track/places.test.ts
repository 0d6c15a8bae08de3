import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { within } from './box.js';
import type { Box } from './box.js';
import { merged, PlaceIndex } from './places.js';

const box = fc.record({
  x: fc.integer({ min: -50, max: 900 }),
  y: fc.integer({ min: -50, max: 500 }),
  width: fc.integer({ min: 0, max: 120 }),
  height: fc.integer({ min: 0, max: 60 }),
});
const boxes = fc.array(box, { maxLength: 40 });

const touch = (p: Box, q: Box): boolean =>
  p.x <= q.x + q.width && q.x <= p.x + p.width && p.y <= q.y + q.height && q.y <= p.y + p.height;

describe('places to be painted', () => {
  it('cover together whatever was to be painted', () => {
    fc.assert(
      fc.property(boxes, (all) => {
        const places = merged(all);
        expect(places.length).toBeLessThanOrEqual(all.length);
        for (const one of all) expect(places.some((place) => within(one, place))).toBe(true);
      }),
    );
  });

  it('stay apart when they lie far from one another', () => {
    const far = [
      { x: 0, y: 0, width: 10, height: 10 },
      { x: 500, y: 300, width: 10, height: 10 },
    ];
    expect(merged(far)).toEqual(far);
    expect(merged([...far, { x: 4, y: 2, width: 10, height: 10 }])).toHaveLength(2);
  });
});

describe('an index of places', () => {
  it('finds what looking at everything finds, in the same order', () => {
    fc.assert(
      fc.property(boxes, box, (all, area) => {
        const expected = all.flatMap((one, index) => (touch(one, area) ? [index] : []));
        expect(new PlaceIndex(all).within(area)).toEqual(expected);
      }),
    );
  });
});
