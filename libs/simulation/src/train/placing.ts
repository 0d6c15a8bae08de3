import type { Heading } from '@blockbell/railway/track';
import { blockOf } from '@blockbell/railway/track';
import type { Body, Simulation, World } from '../state.js';
import { oppositeWay } from '../track/ways.js';
import { chooseWay } from '../wayside/drives.js';
import { firstLocomotiveOf, locatePoints, stretchesOf, trimWays, wayAt } from './body.js';
import { meetOn } from './contact.js';
import { coverAll } from './coverage.js';
import { frontAt, steady } from './motion.js';
import { replan } from './plan.js';
import { inContact } from './schedule.js';

/** A train's body, not yet on the layout. */
export function createBody(world: World, train: number): Body {
  const file = world.stock.trains[train]!;
  return {
    id: train,
    train,
    leftBehind: false,
    present: false,
    length: file.length,
    stretches: stretchesOf(file, firstLocomotiveOf(world, train)),
    ways: [],
    starts: [],
    stepOf: [],
    pieceOf: [],
    motion: steady(0, 0, 0),
    plan: 0,
    due: { kind: 'nothing' },
    district: 0,
    coasting: null,
    stalls: 0,
    runaway: null,
    slipPermille: 1000,
    runOnPermille: 1000,
    hung: null,
    placedBy: null,
  };
}

/** Sets a body down, its front at the stop mark of a block and its tail behind it as the drives lie. */
export function setDown(simulation: Simulation, body: Body, heading: Heading): void {
  const { state, world } = simulation;
  const block = world.layout.elements[blockOf(heading)];
  if (block?.kind !== 'block') throw new RangeError(`heading ${heading} is no block's`);
  const way = world.track.wayOfHeading[heading]!;
  body.ways.push(way);
  body.starts.push(0);
  let front = block.length - block.stopMarks[(heading & 1) as 0 | 1];
  while (front - body.length < body.starts[0]!) {
    if (!reachBack(simulation, body)) {
      front = body.starts[0]! + body.length;
      break;
    }
  }
  if (front > block.length) {
    throw new RangeError(`train ${body.train} does not fit at ${block.id}`);
  }
  body.motion = steady(state.now, front, 0);
  body.present = true;
  locatePoints(simulation, body, front);
  trimWays(body);
  body.district = feedingDistrict(simulation, body);
  coverAll(simulation, body, 1);
  findOverlaps(simulation, body);
  replan(simulation, body);
}

/** Goes on by one way behind a path, as the drives lie. False where the track ends. */
export function reachBack(
  simulation: Simulation,
  { ways, starts }: { readonly ways: number[]; readonly starts: number[] },
): boolean {
  const exit = simulation.world.track.ways[oppositeWay(ways[0]!)]!.next;
  if (exit === null) return false;
  const behind = chooseWay(simulation, exit).way;
  starts.unshift(starts[0]! - behind.length);
  ways.unshift(oppositeWay(behind.index));
  return true;
}

/** Has a body whose path is known cover what it stands on, its front at `front` mm of the path. */
export function standAt(simulation: Simulation, body: Body, front: number): void {
  locatePoints(simulation, body, front);
  trimWays(body);
  coverAll(simulation, body, 1);
}

/** Takes a body off the layout. */
export function lift(simulation: Simulation, body: Body): void {
  if (!body.present) return;
  const { contacts } = simulation.state;
  coverAll(simulation, body, -1);
  for (let place = contacts.length - 1; place >= 0; place -= 1) {
    const contact = contacts[place]!;
    if (contact.body === body.id || contact.other === body.id) contacts.splice(place, 1);
  }
  body.present = false;
  body.ways.length = 0;
  body.starts.length = 0;
  body.due = { kind: 'nothing' };
  body.plan += 1;
}

/** The last `length` mm of a body come off and stand. Nothing comes off a body that isn't longer, or behind which another hangs. */
export function leaveCars(simulation: Simulation, body: Body, length: number, fault: number): void {
  const { state, world } = simulation;
  const kept = body.length - length;
  if (!body.present || body.hung !== null || length <= 0 || kept <= 0) return;
  const train = world.stock.trains[body.train]!;
  const first = firstLocomotiveOf(world, body.train);
  const front = frontAt(body.motion, state.now);
  coverAll(simulation, body, -1);
  const cars: Body = {
    ...createBody(world, body.train),
    id: state.bodies.length,
    leftBehind: true,
    present: true,
    length,
    stretches: stretchesOf(train, first, kept, body.length),
    ways: [...body.ways],
    starts: [...body.starts],
    motion: steady(state.now, front - kept, 0),
    district: body.district,
    placedBy: fault,
  };
  body.length = kept;
  body.stretches = stretchesOf(train, first, 0, kept);
  state.bodies.push(cars);
  standAt(simulation, body, front);
  standAt(simulation, cars, front - kept);
  replan(simulation, body);
  replan(simulation, cars);
}

/** The first district that any section under a body tells; the layout's first where none does. */
function feedingDistrict(simulation: Simulation, body: Body): number {
  const { layout } = simulation.world;
  for (let step = body.ways.length - 1; step >= 0; step -= 1) {
    for (const { section } of wayAt(simulation, body, step).pieces.toReversed()) {
      if (section >= 0) return layout.sections[section]!.district;
    }
  }
  return 0;
}

function findOverlaps(simulation: Simulation, body: Body): void {
  const { state, world } = simulation;
  for (const index of body.ways) {
    const { element, leg } = world.track.ways[index]!;
    for (const holder of state.holders[element]!) {
      const apart = holder.body === body.id || holder.slot !== leg;
      if (apart || inContact(simulation, body.id, holder.body)) continue;
      meetOn(simulation, body, state.bodies[holder.body]!, index);
    }
  }
}
