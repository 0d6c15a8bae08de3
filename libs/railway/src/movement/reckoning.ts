import type { Train } from '../stock/train.js';
import {
  after,
  instant,
  mmPerS,
  mmPerS2,
  um,
  umPerS,
  type Instant,
  type Micrometres,
  type MicrometresPerSecond,
  type MillimetresPerSecond,
  type Milliseconds,
} from '../units.js';
import { brakingDistance, fastest, weakest } from './braking.js';
import {
  advance,
  positionAt,
  speedAt,
  standingAt,
  standstillAt,
  timeToTravel,
  withTarget,
  type Motion,
  type Performance,
} from './motion.js';
import { lowestSpeed } from './speed-table.js';

/**
 * Dead reckoning between edges: where a train's head is if it runs as measured, and how far ahead of that or behind it
 * the head can be at most. Fault assumptions: the real speed differs from what was told by no more than the
 * speed spread, real acceleration and braking by no more than the wider of the two spreads, every command takes
 * effect between at once and `delay` later, in order.
 */
export interface RunningModel {
  readonly nominal: Performance;
  readonly fast: Performance;
  readonly slow: Performance;
  /** Permille of the speed told. */
  readonly speedSpread: number;
  /** Longest time from a decision to its effect on the motor. */
  readonly delay: Milliseconds;
  /** The speed at which a train feels its way to its mark. */
  readonly creep: MillimetresPerSecond;
}

/** Slow enough to stop within a hand's breadth, fast enough not to stick; common practice, no source. */
const CREEP = 40;

export function runningModel(train: Train, delay: Milliseconds): RunningModel {
  const { acceleration, braking } = train;
  const wider = Math.max(train.speedSpread, train.brakingSpread);
  const lowest = train.locomotives.flatMap(({ file }) => [
    lowestSpeed(file.speedTable.forward),
    lowestSpeed(file.speedTable.reverse),
  ]);
  return {
    nominal: { acceleration, braking },
    fast: {
      acceleration: mmPerS2(Math.ceil((acceleration * (1000 + wider)) / 1000)),
      braking: weakest(braking, train.brakingSpread),
    },
    slow: {
      acceleration: mmPerS2(Math.max(1, Math.floor((acceleration * (1000 - wider)) / 1000))),
      braking: mmPerS2(Math.ceil((braking * (1000 + train.brakingSpread)) / 1000)),
    },
    speedSpread: train.speedSpread,
    delay,
    creep: mmPerS(Math.max(CREEP, ...lowest)),
  };
}

/** Motions one after the other, each from its `since` until the next begins. Never empty. */
export type Course = readonly [Motion, ...Motion[]];

/** Plain data. All three know every command given; `fast` and `slow` bound the truth. */
export interface Reckoning {
  readonly nominal: Motion;
  readonly fast: Course;
  readonly slow: Course;
}

/** Where the head may be: certainly not before `low`, not beyond `high`. */
export interface Range {
  readonly low: Micrometres;
  readonly high: Micrometres;
}

/** The motion of a course that is in force at `now`. */
export function inForce(course: Course, now: Instant): Motion {
  let found = course[0];
  for (const motion of course) if (motion.since <= now) found = motion;
  return found;
}

export const toldAs = (target: MillimetresPerSecond): MicrometresPerSecond =>
  umPerS(Math.round(target * 1000));
export const atMost = (model: RunningModel, target: MillimetresPerSecond): MicrometresPerSecond =>
  fastest(toldAs(target), model.speedSpread);
const atLeast = (model: RunningModel, target: MillimetresPerSecond): MicrometresPerSecond =>
  umPerS(Math.floor(target * Math.max(0, 1000 - model.speedSpread)));

/** A train that stands, with its head anywhere in the range and most likely at `nominal`. */
export function standing(range: Range, nominal: Micrometres, now: Instant): Reckoning {
  return {
    nominal: standingAt(nominal, now),
    fast: [standingAt(range.high, now)],
    slow: [standingAt(range.low, now)],
  };
}

/** The course from `now` on: what is past is dropped. */
function settle(course: Course, performance: Performance, now: Instant): Course {
  const later = course.filter((motion) => motion.since > now);
  return [advance(inForce(course, now), performance, now), ...later];
}

/**
 * A bound after a command. Of all commands that may be in effect, given unknown delays, it obeys the one worst for it:
 * `worse` commands at once, others only when no worse one can still be in effect.
 */
function commandBound(
  course: Course,
  performance: Performance,
  target: MicrometresPerSecond,
  isWorse: (one: number, other: number) => boolean,
  now: Instant,
  delay: Milliseconds,
): Course {
  const [current, ...later] = settle(course, performance, now);
  if (!isWorse(current.target, target)) return [withTarget(current, performance, target, now)];
  const kept = later.filter((motion) => isWorse(motion.target, target));
  const from = later[kept.length]?.since ?? after(now, delay);
  const last = kept[kept.length - 1] ?? current;
  return [current, ...kept, withTarget(last, performance, target, from)];
}

const faster = (one: number, other: number): boolean => one > other;
const slower = (one: number, other: number): boolean => one < other;

/** The reckoning after the train was told to run at `target`. */
export function command(
  model: RunningModel,
  { nominal, fast, slow }: Reckoning,
  target: MillimetresPerSecond,
  now: Instant,
): Reckoning {
  const { delay } = model;
  return {
    nominal: withTarget(nominal, model.nominal, toldAs(target), now),
    fast: commandBound(fast, model.fast, atMost(model, target), faster, now, delay),
    slow: commandBound(slow, model.slow, atLeast(model, target), slower, now, delay),
  };
}

/** Speed last told, in mm/s. */
export const toldSpeed = (reckoning: Reckoning): MillimetresPerSecond =>
  mmPerS(reckoning.nominal.target / 1000);

/** Where the head is most likely, and may be, at `now`. */
export function rangeAt(
  model: RunningModel,
  { nominal, fast, slow }: Reckoning,
  now: Instant,
): Range & { readonly nominal: Micrometres } {
  return {
    low: positionAt(inForce(slow, now), model.slow, now),
    nominal: positionAt(nominal, model.nominal, now),
    high: positionAt(inForce(fast, now), model.fast, now),
  };
}

/**
 * Where the head is now, if a detector has just said that it reached `place`: the message is up to `worstDelay` old and the
 * head has run on; one ms more, because edges are told in whole ms. While the bound brakes it was faster before, hence the
 * second term.
 */
export function seenAt(
  model: RunningModel,
  reckoning: Reckoning,
  place: Micrometres,
  worstDelay: Milliseconds,
  now: Instant,
): Range {
  const speed = speedAt(inForce(reckoning.fast, now), model.fast, now);
  const age = worstDelay + 1;
  const gained = (model.fast.braking * age * age) / 2000;
  return { low: place, high: um(Math.ceil(place + (speed * age) / 1000 + gained)) };
}

const clamp = (value: number, low: number, high: number): number =>
  Math.min(Math.max(value, low), high);

function moved(course: Course, performance: Performance, to: Micrometres, now: Instant): Course {
  const settled = settle(course, performance, now);
  const by = to - settled[0].position;
  const [first, ...later] = settled.map((motion) => ({
    ...motion,
    position: um(motion.position + by),
  }));
  return [first ?? settled[0], ...later];
}

/**
 * The reckoning corrected by evidence that the head is within `seen` now. Evidence that contradicts what was reckoned
 * replaces it: the caller raises the alarm.
 */
export function anchor(
  model: RunningModel,
  reckoning: Reckoning,
  seen: Range,
  now: Instant,
): Reckoning {
  const before = rangeAt(model, reckoning, now);
  const low = Math.max(before.low, seen.low);
  const high = Math.min(before.high, seen.high);
  const range = low <= high ? { low: um(low), high: um(high) } : seen;
  const nominal = um(clamp(before.nominal, range.low, range.high));
  return {
    nominal: { ...advance(reckoning.nominal, model.nominal, now), position: nominal },
    fast: moved(reckoning.fast, model.fast, range.high, now),
    slow: moved(reckoning.slow, model.slow, range.low, now),
  };
}

/** The instant from which the train certainly stands, or null if it was told to run. */
export function standsFrom(
  model: RunningModel,
  { nominal, fast, slow }: Reckoning,
): Instant | null {
  const ends = [
    standstillAt(nominal, model.nominal),
    standstillAt(fast[fast.length - 1] ?? fast[0], model.fast),
    standstillAt(slow[slow.length - 1] ?? slow[0], model.slow),
  ];
  let latest = 0;
  for (const end of ends) {
    if (end === null) return null;
    latest = Math.max(latest, end);
  }
  return instant(latest);
}

/** The furthest place the head may get to if the train is told to stop at `now`. */
export function reachAt(model: RunningModel, { fast }: Reckoning, now: Instant): Micrometres {
  const last = after(now, model.delay);
  const motion = inForce(fast, last);
  const run = brakingDistance(speedAt(motion, model.fast, last), umPerS(0), model.fast.braking);
  return um(positionAt(motion, model.fast, last) + run);
}

/** The instant by which even the slowest train has reached `place`; null if it may stop before. */
export function certainlyReached(
  model: RunningModel,
  { slow }: Reckoning,
  place: Micrometres,
): Instant | null {
  for (const [i, motion] of slow.entries()) {
    const time = timeToTravel(motion, model.slow, um(place - motion.position));
    const next = slow[i + 1];
    if (time !== null && (next === undefined || motion.since + time <= next.since)) {
      return after(motion.since, time);
    }
  }
  return null;
}
