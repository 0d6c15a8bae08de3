import { push } from '../event-queue.js';
import type { Body, BodyDue, Simulation } from '../state.js';
import { coveredOf, extentAt, offsetOf, wayAt } from './body.js';
import { NEVER, directionOf, secondsToCover, speedAt, whenMoved } from './motion.js';

/** Bodies this near (mm) touch: far below what matters, far above the error of the arithmetic. */
export const TOUCHING = 1e-6;

/** Works out what happens next to a body, and makes it due. Whatever was due before is void. */
export function schedule(simulation: Simulation, body: Body): void {
  const { state } = simulation;
  body.plan += 1;
  body.due = { kind: 'nothing' };
  if (!body.present) return;
  let at = body.motion.until;
  if (at < NEVER) body.due = { kind: 'goal-speed' };
  const consider = (candidate: number, due: BodyDue): void => {
    if (candidate > at) return;
    at = candidate;
    body.due = due;
  };
  const crossing = nextCrossing(simulation, body);
  if (crossing !== null) consider(crossing.at, { kind: 'crossing', point: crossing.point });
  for (const way of body.ways) considerContacts(simulation, body, way, consider);
  if (at < NEVER) {
    push(state.queue, {
      at: Math.max(at, state.now),
      kind: 'body',
      body: body.id,
      plan: body.plan,
    });
  }
}

/**
 * The point that next reaches a border of its piece. Among points that do so together the leading end of the body
 * comes first and its trailing end last, so that the body always covers its other points.
 */
function nextCrossing(
  simulation: Simulation,
  body: Body,
): { readonly at: number; readonly point: number } | null {
  const direction = directionOf(body.motion);
  if (direction === 0) return null;
  const count = body.stretches.length;
  const leadingEnd = direction === 1 ? 0 : 1;
  let nearest = Infinity;
  let point = -1;
  for (let turn = 0; turn < count * 2; turn += 1) {
    const candidate =
      turn < count ? turn * 2 + leadingEnd : (count * 2 - 1 - turn) * 2 + (1 - leadingEnd);
    const step = body.stepOf[candidate]!;
    const piece = wayAt(simulation, body, step).pieces[body.pieceOf[candidate]!]!;
    const border = body.starts[step]! + (direction === 1 ? piece.to : piece.from);
    const distance = direction * (border - (body.motion.front - offsetOf(body, candidate)));
    if (distance < nearest) {
      nearest = distance;
      point = candidate;
    }
  }
  return { at: whenMoved(body.motion, nearest), point };
}

function considerContacts(
  simulation: Simulation,
  body: Body,
  way: number,
  consider: (at: number, due: BodyDue) => void,
): void {
  const { state, world } = simulation;
  const { element, leg } = world.track.ways[way]!;
  const holders = state.holders[element]!;
  if (holders.length < 2) return;
  for (const holder of holders) {
    if (holder.body === body.id || holder.slot !== leg) continue;
    const other = state.bodies[holder.body]!;
    if (inContact(simulation, body.id, other.id)) continue;
    const at = whenMeeting(simulation, body, other, way);
    consider(at, { kind: 'contact', other: other.id, way });
  }
}

export const inContact = ({ state }: Simulation, body: number, other: number): boolean =>
  state.contacts.some(
    (it) => (it.body === body && it.other === other) || (it.body === other && it.other === body),
  );

/** How two bodies lie to each other on a leg, seen from the leg's `from` port: which is behind, and the gap. */
export function gapOn(
  simulation: Simulation,
  body: Body,
  other: Body,
  way: number,
): { readonly gap: number; readonly behind: Body; readonly ahead: Body } | null {
  const mine = coveredOn(simulation, body, way);
  const others = coveredOn(simulation, other, way);
  if (mine === null || others === null) return null;
  return mine.from + mine.to <= others.from + others.to
    ? { gap: others.from - mine.to, behind: body, ahead: other }
    : { gap: mine.from - others.to, behind: other, ahead: body };
}

function coveredOn(
  simulation: Simulation,
  body: Body,
  way: number,
): { readonly from: number; readonly to: number } | null {
  const step = stepOn(body, way);
  if (step < 0) return null;
  const extent = extentAt(body, simulation.state.now);
  return coveredOf(wayAt(simulation, body, step), body.starts[step]!, extent);
}

const stepOn = (body: Body, way: number): number =>
  body.ways.findIndex((it) => it >> 1 === way >> 1);

/** 1 if the body's front points the way the leg runs, else −1. */
export function senseOn(simulation: Simulation, body: Body, way: number): 1 | -1 {
  return wayAt(simulation, body, stepOn(body, way)).along ? 1 : -1;
}

function whenMeeting(simulation: Simulation, body: Body, other: Body, way: number): number {
  const { now } = simulation.state;
  const found = gapOn(simulation, body, other, way);
  if (found === null || found.gap < -TOUCHING) return Infinity;
  const { behind, ahead } = found;
  const along = (it: Body, value: number): number => senseOn(simulation, it, way) * value;
  const closing =
    along(behind, speedAt(behind.motion, now)) - along(ahead, speedAt(ahead.motion, now));
  const acceleration =
    along(behind, behind.motion.acceleration) - along(ahead, ahead.motion.acceleration);
  if (found.gap <= TOUCHING) {
    return closing > 0 || (closing === 0 && acceleration > 0) ? now : Infinity;
  }
  const at = now + secondsToCover(found.gap, closing, acceleration) * 1000;
  return at <= Math.min(body.motion.until, other.motion.until) ? at : Infinity;
}
