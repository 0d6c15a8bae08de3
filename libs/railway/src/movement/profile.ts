import {
  after,
  instant,
  mmPerS,
  um,
  umPerS,
  type Instant,
  type Micrometres,
  type MillimetresPerSecond,
} from '../units.js';
import { brakingDistance } from './braking.js';
import { positionAt, speedAt, timeToTravel } from './motion.js';
import {
  atMost,
  command,
  inForce,
  toldAs,
  toldSpeed,
  type Reckoning,
  type RunningModel,
} from './reckoning.js';

/** A speed limit in force from that position of the head on, until the next. */
export interface LimitFrom {
  readonly from: Micrometres;
  readonly speed: MillimetresPerSecond;
}

/** What lies ahead of a train, in µm along its path. */
export interface WayAhead {
  /**
   * In order of position, the first at or behind the head. Where a limit rises, `from` is where the tail leaves the lower one.
   */
  readonly limits: readonly LimitFrom[];
  readonly topSpeed: MillimetresPerSecond;
  /** Where the head is to stand. */
  readonly mark: Micrometres;
  /** What the head must never pass, whatever the spread; not before the mark. */
  readonly limit: Micrometres;
}

export interface Advice {
  /** Speed to tell the train now, in mm/s. */
  readonly target: MillimetresPerSecond;
  /** When to ask again if nothing happens before; null if not until something does. */
  readonly nextAt: Instant | null;
}

/** A train isn't told to run faster for less than this; it would only jerk. */
const SHORTEST_RUN = 500;
/** How far ahead the profile looks. Whoever runs longer without an event is asked again. */
const HORIZON = 600_000;

/**
 * The speed to tell a train now and the next time to ask. It stops in two phases: braking is begun so early that
 * even the fastest train within the spread reaches creeping speed in time, then it creeps until either the nominal
 * head would stop at the mark or the furthest possible head at the limit, whichever comes first. As long as it is
 * asked at `nextAt`, the head never passes the limit under the fault assumptions of {@link RunningModel}; a limit that was
 * taken back too late to be kept gets speed 0 (see `reachAt`). How far short it may stand: {@link shortfall}.
 */
export function nextCommand(
  model: RunningModel,
  reckoning: Reckoning,
  way: WayAhead,
  now: Instant,
): Advice {
  const told = toldSpeed(reckoning);
  for (const target of candidates(model, reckoning, way, now)) {
    const running = command(model, reckoning, target, now);
    const until = heldUntil(model, running, way, target, now);
    const least = target > told ? now + SHORTEST_RUN : now + 1;
    if (until >= least)
      return { target, nextAt: earlier(until, limitRises(model, running, way, target, now)) };
  }
  return { target: mmPerS(0), nextAt: null };
}

/**
 * How far short of the mark or the limit a train may be left standing, in µm: its furthest possible head that far
 * before the limit, or its nominal head that far before the mark. Its real head may be behind those by the width of
 * the reckoning.
 */
export function shortfall(model: RunningModel): Micrometres {
  const creep = atMost(model, model.creep);
  const start = (creep * SHORTEST_RUN) / 1000;
  return um(Math.ceil(start + creep / 1000) + stopFromCreep(model));
}

/** Speeds worth trying, fastest first: what the track allows here, what was told, the limits ahead, creeping. */
function candidates(
  model: RunningModel,
  reckoning: Reckoning,
  way: WayAhead,
  now: Instant,
): MillimetresPerSecond[] {
  const head = positionAt(reckoning.nominal, model.nominal, now);
  let here = way.topSpeed;
  const speeds = [toldSpeed(reckoning), model.creep];
  for (const { from, speed } of way.limits) {
    const allowed = mmPerS(Math.max(model.creep, Math.min(speed, way.topSpeed)));
    if (from <= head) here = allowed;
    else speeds.push(allowed);
  }
  const slower = speeds.filter((speed) => speed > 0 && speed < here).sort((a, b) => b - a);
  return [here, ...slower].filter((speed, i, all) => speed !== all[i - 1]);
}

/** Until when a train running at `target` may wait before it must be told to slow down; before `now`: it may not. */
function heldUntil(
  model: RunningModel,
  running: Reckoning,
  way: WayAhead,
  target: MillimetresPerSecond,
  now: Instant,
): Instant {
  const creeping = target <= model.creep;
  const next = creeping ? mmPerS(0) : model.creep;
  const afterwards = creeping ? 0 : stopFromCreep(model);
  const nominalAfterwards = creeping ? 0 : nominalStop(model);
  let until = latest(now, (at) => fastFits(model, running, next, way.limit - afterwards, at));
  until = latest(
    now,
    (at) => nominalFits(model, running, next, way.mark - nominalAfterwards, at),
    until,
  );
  for (const { from, speed } of way.limits) {
    const allowed = mmPerS(Math.max(model.creep, speed));
    if (allowed < target && from > running.nominal.position) {
      until = latest(now, (at) => fastFits(model, running, allowed, from, at), until);
    }
  }
  return until;
}

/** Whether the fastest train, told at `at` to slow down to `speed`, does so before `place`. */
function fastFits(
  model: RunningModel,
  { fast }: Reckoning,
  speed: MillimetresPerSecond,
  place: number,
  at: Instant,
): boolean {
  const told = after(at, model.delay);
  const motion = inForce(fast, told);
  const from = speedAt(motion, model.fast, told);
  const run = brakingDistance(from, atMost(model, speed), model.fast.braking);
  return positionAt(motion, model.fast, told) + run <= place;
}

/** The same for a train that runs exactly as measured. */
function nominalFits(
  model: RunningModel,
  { nominal }: Reckoning,
  speed: MillimetresPerSecond,
  place: number,
  at: Instant,
): boolean {
  const from = speedAt(nominal, model.nominal, at);
  const run = brakingDistance(from, toldAs(speed), model.nominal.braking);
  return positionAt(nominal, model.nominal, at) + run <= place;
}

/** Distance in which the fastest train stops from creeping, delay included. */
function stopFromCreep(model: RunningModel): number {
  const creep = atMost(model, model.creep);
  return (
    Math.ceil((creep * model.delay) / 1000) + brakingDistance(creep, umPerS(0), model.fast.braking)
  );
}

const nominalStop = (model: RunningModel): number =>
  brakingDistance(toldAs(model.creep), umPerS(0), model.nominal.braking);

/** The last whole ms up to `end` at which a condition holds that, once false, stays false; now − 1 if it never holds. */
function latest(
  now: Instant,
  holds: (at: Instant) => boolean,
  end = instant(now + HORIZON),
): Instant {
  let good = now - 1;
  let step = 128;
  while (good < end && holds(instant(Math.min(good + step, end)))) {
    good = Math.min(good + step, end);
    step *= 2;
  }
  let bad = Math.min(good + step, end + 1);
  while (bad - good > 1) {
    const middle = Math.floor((good + bad) / 2);
    if (holds(instant(middle))) good = middle;
    else bad = middle;
  }
  return instant(good);
}

/** When the head reaches the next limit that lets it run faster than `target`; null if none is ahead. */
function limitRises(
  model: RunningModel,
  { nominal }: Reckoning,
  way: WayAhead,
  target: MillimetresPerSecond,
  now: Instant,
): Instant | null {
  for (const { from, speed } of way.limits) {
    if (from <= nominal.position || speed <= target || target >= way.topSpeed) continue;
    const time = timeToTravel(nominal, model.nominal, um(from - nominal.position));
    return time === null ? null : after(now, time);
  }
  return null;
}

const earlier = (one: Instant, other: Instant | null): Instant =>
  other === null || one < other ? one : other;
