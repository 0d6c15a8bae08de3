import { mmPerS } from './units.js';
import type { KilometresPerHour, MillimetresPerSecond } from './units.js';

/**
 * Prototype speed as speed of the model, rounded to whole mm/s: 1 km/h is 1,000,000/3600 mm/s, divided by the
 * scale ratio (87 for 1:87). The fast clock has no part in it.
 */
export const modelSpeed = (speed: KilometresPerHour, scaleRatio: number): MillimetresPerSecond =>
  mmPerS(Math.round((speed * 1_000_000) / 3600 / scaleRatio));
