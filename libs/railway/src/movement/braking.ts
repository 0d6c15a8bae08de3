import {
  mmPerS2,
  um,
  umPerS,
  type Micrometres,
  type MicrometresPerSecond,
  type MillimetresPerSecondSquared,
} from '../units.js';

/**
 * Distances in µm, speeds in µm/s, braking in mm/s², times in ms. Rounded up: whoever asks wants to be sure.
 */

/** Distance while braking evenly from one speed to another that is not higher; 0 if it is. */
export function brakingDistance(
  from: MicrometresPerSecond,
  to: MicrometresPerSecond,
  braking: MillimetresPerSecondSquared,
): Micrometres {
  if (from <= to) return um(0);
  return um(Math.ceil((from * from - to * to) / (2000 * braking)));
}

/** The fastest that a train told to run at `speed` may really be, with a spread in permille. */
export const fastest = (speed: MicrometresPerSecond, spread: number): MicrometresPerSecond =>
  umPerS(Math.ceil((speed * (1000 + spread)) / 1000));

/** The weakest braking within a spread in permille; never below 1 mm/s². */
export const weakest = (
  braking: MillimetresPerSecondSquared,
  spread: number,
): MillimetresPerSecondSquared =>
  mmPerS2(Math.max(1, Math.floor((braking * (1000 - spread)) / 1000)));
