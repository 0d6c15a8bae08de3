import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mmPerS } from '../units.js';
import { lowestSpeed, speedOf, stepFor, type SpeedTable } from './speed-table.js';

const table: SpeedTable = [
  { step: 4, speed: mmPerS(20) },
  { step: 64, speed: mmPerS(140) },
  { step: 126, speed: mmPerS(202) },
];

const measured = fc
  .array(
    fc.record({ gap: fc.integer({ min: 1, max: 30 }), rise: fc.integer({ min: 1, max: 60 }) }),
    {
      minLength: 1,
      maxLength: 4,
    },
  )
  .map((points) => {
    let step = 0;
    let speed = 0;
    return points.map(({ gap, rise }) => {
      step += gap;
      speed += rise;
      return { step, speed: mmPerS(speed) };
    });
  });

describe('speed table', () => {
  it('is linear between points and flat after the last', () => {
    expect([0, 2, 4, 34, 64, 95, 126].map((step) => speedOf(table, step))).toEqual([
      0, 10, 20, 80, 140, 171, 202,
    ]);
    expect(speedOf([{ step: 100, speed: mmPerS(200) }], 126)).toBe(200);
  });

  it('finds the step for a speed', () => {
    expect([0, 1, 20, 21, 22, 139, 140, 141, 500].map((v) => stepFor(table, mmPerS(v)))).toEqual([
      0, 4, 4, 4, 5, 63, 64, 65, 126,
    ]);
    expect(lowestSpeed(table)).toBe(20);
  });

  it('gives the highest measured step that is not too fast', () => {
    fc.assert(
      fc.property(measured, fc.integer({ min: 1, max: 300 }), (points, wanted) => {
        const step = stepFor(points, mmPerS(wanted));
        const lowest = points[0]?.step ?? 0;
        const highest = points[points.length - 1]?.step ?? 0;
        expect(step).toBeGreaterThanOrEqual(lowest);
        if (step > lowest) expect(speedOf(points, step)).toBeLessThanOrEqual(wanted);
        if (step < highest) expect(speedOf(points, step + 1)).toBeGreaterThan(wanted);
      }),
    );
  });
});
