/**
 * Motion between two events in closed form: constant acceleration until a moment, then a new plan.
 * Lengths in mm, speeds in mm/s, times in ms; forward (front first) is positive.
 */
export interface Motion {
  /** When this motion began, and where the front stood then on the train's path. */
  readonly since: number;
  readonly front: number;
  readonly speed: number;
  readonly acceleration: number;
  /** When the goal speed is reached; `NEVER` for steady motion. */
  readonly until: number;
  readonly goalSpeed: number;
}

/** A moment that does not come; finite, so that states survive being written as JSON. */
export const NEVER = Number.MAX_SAFE_INTEGER;

/** A train that stands, or runs steadily. */
export const steady = (at: number, front: number, speed: number): Motion => ({
  since: at,
  front,
  speed,
  acceleration: 0,
  until: NEVER,
  goalSpeed: speed,
});

/**
 * From a state to a goal speed at given rates (mm/s², positive). A goal in the other direction is reached by way
 * of standing: the motion ends there.
 */
export function towards(
  at: number,
  front: number,
  speed: number,
  goal: number,
  rates: { readonly acceleration: number; readonly braking: number },
): Motion {
  const turning = speed * goal < 0;
  const goalSpeed = turning ? 0 : goal;
  const change = goalSpeed - speed;
  if (change === 0) return steady(at, front, speed);
  const rate = Math.abs(goalSpeed) > Math.abs(speed) ? rates.acceleration : rates.braking;
  return {
    since: at,
    front,
    speed,
    acceleration: change > 0 ? rate : -rate,
    until: at + (Math.abs(change) / rate) * 1000,
    goalSpeed,
  };
}

/** Position of the front on the path at a moment within the motion. */
export function frontAt(motion: Motion, at: number): number {
  const seconds = (Math.min(at, motion.until) - motion.since) / 1000;
  return motion.front + (motion.speed + (motion.acceleration * seconds) / 2) * seconds;
}

export function speedAt(motion: Motion, at: number): number {
  if (at >= motion.until) return motion.goalSpeed;
  return motion.speed + (motion.acceleration * (at - motion.since)) / 1000;
}

/** 1 forward, −1 in reverse, 0 standing. A train about to start has the direction of its acceleration. */
export const directionOf = (motion: Motion): -1 | 0 | 1 => {
  const leading = motion.speed === 0 ? motion.acceleration : motion.speed;
  return leading > 0 ? 1 : leading < 0 ? -1 : 0;
};

/** When the train has moved `distance` mm on in its direction since the motion began; Infinity if it won't. */
export function whenMoved(motion: Motion, distance: number): number {
  const direction = directionOf(motion);
  if (direction === 0) return Infinity;
  const seconds = secondsToCover(
    distance,
    direction * motion.speed,
    direction * motion.acceleration,
  );
  const at = motion.since + seconds * 1000;
  return at <= motion.until ? at : Infinity;
}

/**
 * Seconds until `distance` mm are covered, beginning at `speed` (mm/s, negative: moving away) under
 * `acceleration` (mm/s²); 0 when nothing is left to cover, Infinity if it never will be.
 */
export function secondsToCover(distance: number, speed: number, acceleration: number): number {
  if (distance <= 0) return 0;
  const discriminant = speed * speed + 2 * acceleration * distance;
  if (discriminant < 0) return Infinity;
  const reach = speed + Math.sqrt(discriminant);
  return reach > 0 ? (2 * distance) / reach : Infinity;
}
