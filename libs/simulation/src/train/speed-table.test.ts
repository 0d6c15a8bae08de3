import { mmPerS } from '@blockbell/railway/track';
import { describe, expect, it } from 'vitest';
import { speedOfStep } from './speed-table.js';

const TABLE = [
  { step: 20, speed: mmPerS(50) },
  { step: 60, speed: mmPerS(150) },
  { step: 126, speed: mmPerS(282) },
];

describe('speed of a step', () => {
  it.each([
    [0, 0],
    [10, 25],
    [20, 50],
    [40, 100],
    [60, 150],
    [93, 216],
    [126, 282],
  ])('step %i gives %i mm/s', (step, speed) => {
    expect(speedOfStep(TABLE, step)).toBeCloseTo(speed, 9);
  });

  it('stays at the last point above it', () => {
    expect(speedOfStep(TABLE.slice(0, 2), 126)).toBe(150);
  });
});
