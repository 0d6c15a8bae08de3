import {
  instant,
  ms,
  um,
  umPerS,
  type Instant,
  type Micrometres,
  type MicrometresPerSecond,
  type MillimetresPerSecondSquared,
  type Milliseconds,
} from '../units.js';

/** How fast a train gains and loses speed, in mm/s², both above 0. */
export interface Performance {
  readonly acceleration: MillimetresPerSecondSquared;
  readonly braking: MillimetresPerSecondSquared;
}

/**
 * A train's head on its path: at `since` it was at `position` with `speed`, and from then on it
 * changes its speed evenly until it runs at `target`. All integers: µm, µm/s and ms.
 */
export interface Motion {
  readonly position: Micrometres;
  readonly speed: MicrometresPerSecond;
  readonly target: MicrometresPerSecond;
  readonly since: Instant;
}

/** A train that stands at `position`, with nothing commanded. */
export const standingAt = (position: Micrometres, now: Instant): Motion => ({
  position,
  speed: umPerS(0),
  target: umPerS(0),
  since: now,
});

/** Signed change of speed, in µm/s per ms, which is mm/s²; 0 once the target is reached. */
function rateOf(motion: Motion, performance: Performance): number {
  if (motion.target > motion.speed) return performance.acceleration;
  if (motion.target < motion.speed) return -performance.braking;
  return 0;
}

/** Milliseconds, perhaps with a fraction, from `since` until the target speed is reached. */
function rampTime(motion: Motion, rate: number): number {
  return rate === 0 ? 0 : (motion.target - motion.speed) / rate;
}

/** Speed at `now`, in µm/s. */
export function speedAt(
  motion: Motion,
  performance: Performance,
  now: Instant,
): MicrometresPerSecond {
  const elapsed = now - motion.since;
  const rate = rateOf(motion, performance);
  return elapsed >= rampTime(motion, rate) ? motion.target : umPerS(motion.speed + rate * elapsed);
}

/** Unrounded µm travelled `elapsed` ms after `since`. */
function travelled(motion: Motion, rate: number, elapsed: number): number {
  const ramp = Math.min(elapsed, rampTime(motion, rate));
  const onRamp = motion.speed * ramp + (rate * ramp * ramp) / 2;
  return (onRamp + motion.target * (elapsed - ramp)) / 1000;
}

/** Position at `now` (not before `since`), rounded to a µm. */
export function positionAt(motion: Motion, performance: Performance, now: Instant): Micrometres {
  const distance = travelled(motion, rateOf(motion, performance), now - motion.since);
  return um(motion.position + Math.round(distance));
}

/** The same motion, written down anew at `now`. */
export function advance(motion: Motion, performance: Performance, now: Instant): Motion {
  return {
    position: positionAt(motion, performance, now),
    speed: speedAt(motion, performance, now),
    target: motion.target,
    since: now,
  };
}

/** The motion from `now` on, with another speed to reach. */
export function withTarget(
  motion: Motion,
  performance: Performance,
  target: MicrometresPerSecond,
  now: Instant,
): Motion {
  return { ...advance(motion, performance, now), target };
}

/** Whole ms from `since` until the target speed is reached. */
export function timeToTarget(motion: Motion, performance: Performance): Milliseconds {
  return ms(Math.ceil(rampTime(motion, rateOf(motion, performance))));
}

/** The instant from which the train stands, or null if it is to run on. */
export function standstillAt(motion: Motion, performance: Performance): Instant | null {
  return motion.target > 0 ? null : instant(motion.since + timeToTarget(motion, performance));
}

/**
 * Whole ms from `since` until `distance` (µm) has been travelled; null if the train stops before. On a ramp of rate r
 * the time solves v·t + r·t²/2 = d; the form used divides by v + √(v² + 2rd) and so also holds for r → 0.
 */
export function timeToTravel(
  motion: Motion,
  performance: Performance,
  distance: Micrometres,
): Milliseconds | null {
  if (distance <= 0) return ms(0);
  const rate = rateOf(motion, performance);
  const ramp = rampTime(motion, rate);
  const onRamp = travelled(motion, rate, ramp);
  if (distance > onRamp) {
    if (motion.target <= 0) return null;
    return ms(Math.ceil(ramp + ((distance - onRamp) * 1000) / motion.target));
  }
  const root = Math.sqrt(Math.max(0, motion.speed * motion.speed + 2 * rate * distance * 1000));
  return ms(Math.ceil((2 * distance * 1000) / (motion.speed + root)));
}
