import type { SpeedPoint } from '../stock/stock-file.js';
import { mmPerS, type MillimetresPerSecond } from '../units.js';

/** Points of one direction, measured, rising in step and in speed; at least one. */
export type SpeedTable = readonly SpeedPoint[];

const ORIGIN: SpeedPoint = { step: 0, speed: mmPerS(0) };

/**
 * Speed in mm/s, perhaps with a fraction, that the locomotive runs at a speed step 0…126: linear between the
 * measured points, linear from standstill to the first of them, and no faster than the last.
 */
export function speedOf(table: SpeedTable, step: number): MillimetresPerSecond {
  let below = ORIGIN;
  for (const above of table) {
    if (step <= above.step) {
      const rise = above.speed - below.speed;
      return mmPerS(below.speed + (rise * (step - below.step)) / (above.step - below.step));
    }
    below = above;
  }
  return below.speed;
}

/**
 * The highest measured speed step whose speed is not above `wanted` (mm/s); 0 for a wish of 0. Where even the
 * lowest measured step is faster, that step: below it nobody has seen the locomotive move.
 */
export function stepFor(table: SpeedTable, wanted: MillimetresPerSecond): number {
  const first = table[0];
  if (wanted <= 0 || first === undefined) return 0;
  let below = first;
  for (const above of table) {
    if (above.speed > wanted) {
      if (above === first) return first.step;
      const steps =
        ((wanted - below.speed) * (above.step - below.step)) / (above.speed - below.speed);
      return notFaster(table, below.step + Math.ceil(steps), wanted);
    }
    below = above;
  }
  return below.step;
}

/** Steps down from a guess that rounding may have put one too high. */
function notFaster(table: SpeedTable, guess: number, wanted: MillimetresPerSecond): number {
  return speedOf(table, guess) <= wanted ? guess : guess - 1;
}

/** The slowest speed in mm/s that was measured. */
export function lowestSpeed(table: SpeedTable): MillimetresPerSecond {
  return table[0]?.speed ?? mmPerS(0);
}
