import {
  ms,
  um,
  umPerS,
  type Micrometres,
  type MicrometresPerSecond,
  type MillimetresPerSecondSquared,
  type Milliseconds,
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

/** How far a train deviates from what was measured: permille of its speed and of its braking. */
export interface Spread {
  readonly speed: number;
  readonly braking: number;
}

/** The fastest that a train told to run at `speed` may really be. */
export const fastest = (speed: MicrometresPerSecond, spread: Spread): MicrometresPerSecond =>
  umPerS(Math.ceil((speed * (1000 + spread.speed)) / 1000));

/** The weakest braking within the spread; never below 1 mm/s². */
export const weakest = (
  braking: MillimetresPerSecondSquared,
  spread: Spread,
): MillimetresPerSecondSquared =>
  Math.max(
    1,
    Math.floor((braking * (1000 - spread.braking)) / 1000),
  ) as MillimetresPerSecondSquared;

/**
 * Greatest distance from the decision to run at `to` until a train told to run at `from` does so: it runs on for the
 * whole delay, faster than told by the spread, and brakes more weakly than measured by the spread.
 */
export function brakeDistance(
  from: MicrometresPerSecond,
  to: MicrometresPerSecond,
  braking: MillimetresPerSecondSquared,
  delay: Milliseconds,
  spread: Spread,
): Micrometres {
  if (from <= to) return um(0);
  const speed = fastest(from, spread);
  const rolling = Math.ceil((speed * delay) / 1000);
  return um(rolling + brakingDistance(speed, fastest(to, spread), weakest(braking, spread)));
}

/** Greatest distance from the decision to stop until the train stands. */
export function stoppingDistance(
  speed: MicrometresPerSecond,
  braking: MillimetresPerSecondSquared,
  delay: Milliseconds,
  spread: Spread,
): Micrometres {
  return brakeDistance(speed, umPerS(0), braking, delay, spread);
}

/** Longest time from the decision to stop until the train stands. */
export function stoppingTime(
  speed: MicrometresPerSecond,
  braking: MillimetresPerSecondSquared,
  delay: Milliseconds,
  spread: Spread,
): Milliseconds {
  if (speed <= 0) return ms(0);
  return ms(delay + Math.ceil(fastest(speed, spread) / weakest(braking, spread)));
}
