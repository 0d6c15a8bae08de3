import type { Body, Simulation, Stretch } from '../state.js';
import { coverAll } from './coverage.js';
import { frontAt, speedAt, steady } from './motion.js';
import { lift, reachBack, standAt } from './placing.js';
import { replan } from './plan.js';
import { gapOn, TOUCHING } from './schedule.js';

/**
 * Hangs a train on behind another by hand, front towards it: from then on one body, driven by the foremost. Nothing happens where one of
 * them moves, is not on the layout or is coupled already, or where anything else stands on the elements that it would reach over, or track ends.
 */
export function couple(simulation: Simulation, body: Body, other: Body, fault: number): void {
  const { now } = simulation.state;
  const isFree = (it: Body): boolean =>
    it.present && speedAt(it.motion, now) === 0 && carrierOf(simulation, it) === null;
  if (body === other || body.hung !== null || other.hung !== null) return;
  if (!isFree(body) || !isFree(other)) return;
  const front = frontAt(body.motion, now);
  const length = body.length + other.length;
  const path = pathBack(simulation, body, front - length, other);
  if (path === null) return;
  lift(simulation, other);
  coverAll(simulation, body, -1);
  body.ways.splice(0, body.ways.length, ...path.ways);
  body.starts.splice(0, body.starts.length, ...path.starts);
  body.stretches = [
    whole(length),
    ...body.stretches.slice(1),
    ...other.stretches
      .slice(1)
      .map((it) => ({ ...it, from: it.from + body.length, to: it.to + body.length })),
  ];
  body.length = length;
  body.hung = other.id;
  body.placedBy = fault;
  standAt(simulation, body, front);
  replan(simulation, body);
}

/** Takes apart by hand what hangs together; what hung behind stands where it is. */
export function part(simulation: Simulation, body: Body, fault: number): void {
  const { state } = simulation;
  if (body.hung === null) return;
  const other = state.bodies[body.hung]!;
  const front = frontAt(body.motion, state.now);
  const kept = body.length - other.length;
  coverAll(simulation, body, -1);
  other.ways.push(...body.ways);
  other.starts.push(...body.starts);
  other.motion = steady(state.now, front - kept, 0);
  other.district = body.district;
  other.present = true;
  other.placedBy = fault;
  body.stretches = [whole(kept), ...body.stretches.slice(1).filter(({ to }) => to <= kept)];
  body.length = kept;
  body.hung = null;
  standAt(simulation, body, front);
  standAt(simulation, other, front - kept);
  shareContacts(simulation, body, other);
  replan(simulation, body);
  replan(simulation, other);
}

/** The body behind which this one hangs, or null. */
export const carrierOf = ({ state }: Simulation, body: Body): Body | null =>
  state.bodies.find(({ hung }) => hung === body.id) ?? null;

const whole = (length: number): Stretch => ({ kind: 'whole', from: 0, to: length, locomotive: -1 });

/** What touches the part that was hung on touches that from now on. */
function shareContacts(simulation: Simulation, body: Body, other: Body): void {
  const { bodies, contacts } = simulation.state;
  contacts.forEach((contact, place) => {
    const isFirst = contact.body === body.id;
    const third = bodies[isFirst ? contact.other : contact.body];
    if ((!isFirst && contact.other !== body.id) || third === undefined) return;
    if (isTouching(simulation, body, third) || !isTouching(simulation, other, third)) return;
    contacts[place] = { ...contact, [isFirst ? 'body' : 'other']: other.id };
  });
}

const isTouching = (simulation: Simulation, body: Body, other: Body): boolean =>
  body.ways.some((way) => {
    const found = gapOn(simulation, body, other, way);
    return found !== null && found.gap <= TOUCHING;
  });

/** A body's path, gone on behind it as the drives lie until it reaches back to `rear`; null where track ends before, or where more than `other` stands. */
function pathBack(
  simulation: Simulation,
  body: Body,
  rear: number,
  other: Body,
): { readonly ways: readonly number[]; readonly starts: readonly number[] } | null {
  const ways = [...body.ways];
  const starts = [...body.starts];
  const isFree = (way: number): boolean => {
    const { element } = simulation.world.track.ways[way]!;
    return simulation.state.holders[element]!.every(
      (it) => it.body === other.id || (it.body === body.id && way === body.ways[0]),
    );
  };
  if (!isFree(ways[0]!)) return null;
  while (rear < starts[0]!) {
    if (!reachBack(simulation, { ways, starts }) || !isFree(ways[0]!)) return null;
  }
  return { ways, starts };
}
