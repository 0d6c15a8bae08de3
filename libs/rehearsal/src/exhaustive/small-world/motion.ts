/** How a body of the small world runs; all of it at one end of what was measured of its train. */
export interface Traits {
  /** µm. */
  readonly length: number;
  /** mm/s², which is µm/s per ms. */
  readonly acceleration: number;
  readonly braking: number;
  /** What it really runs of a speed told, permille. */
  readonly speed: number;
  /** How long a command to run faster, or slower, is on its way, ms. */
  readonly fasterAfter: number;
  readonly slowerAfter: number;
}

/** At `since` (ms) the leading end was at `head` (µm) with `speed` (µm/s), and from then on it tends evenly to `target`. */
export interface Motion {
  head: number;
  speed: number;
  target: number;
  since: number;
}

function rateOf({ speed, target }: Motion, traits: Traits): number {
  if (target > speed) return traits.acceleration;
  return target < speed ? -traits.braking : 0;
}

const rampOf = (motion: Motion, rate: number): number =>
  rate === 0 ? 0 : (motion.target - motion.speed) / rate;

/** µm run in `elapsed` ms. */
function run(motion: Motion, rate: number, elapsed: number): number {
  const ramp = Math.min(elapsed, rampOf(motion, rate));
  const onRamp = motion.speed * ramp + (rate * ramp * ramp) / 2;
  return (onRamp + motion.target * (elapsed - ramp)) / 1000;
}

/** Writes a motion down anew at `at`. */
export function settle(motion: Motion, traits: Traits, at: number): void {
  const rate = rateOf(motion, traits);
  const elapsed = at - motion.since;
  motion.head = Math.round(motion.head + run(motion, rate, elapsed));
  motion.speed =
    elapsed >= rampOf(motion, rate) ? motion.target : Math.round(motion.speed + rate * elapsed);
  motion.since = at;
}

/** The first whole ms at which the head is beyond `place`; null if it comes to a stand before. */
export function whenBeyond(motion: Motion, traits: Traits, place: number): number | null {
  const rate = rateOf(motion, traits);
  const ramp = rampOf(motion, rate);
  const distance = place + 1 - motion.head;
  if (distance <= 0) return motion.since;
  const onRamp = run(motion, rate, ramp);
  if (distance > onRamp) {
    if (motion.target <= 0) return null;
    return motion.since + Math.ceil(ramp + ((distance - onRamp) * 1000) / motion.target);
  }
  const { speed } = motion;
  const root = Math.sqrt(Math.max(0, speed * speed + 2 * rate * distance * 1000));
  return motion.since + Math.ceil((2 * distance * 1000) / (speed + root));
}

/** The furthest place the head comes to if the body is told to stop now. */
export function stopsAt({ head, speed }: Motion, traits: Traits): number {
  return head + (speed * traits.slowerAfter) / 1000 + (speed * speed) / (2000 * traits.braking);
}
