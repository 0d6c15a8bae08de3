import type { Body, Contact, Simulation } from '../state.js';
import { wayAt } from './body.js';
import { directionOf, frontAt, speedAt, steady, towards } from './motion.js';
import { schedule } from './schedule.js';
import { speedOfStep } from './speed-table.js';

/** How long stored energy moves a train at most, s (common practice, no source). */
const LONGEST_COAST = 10;

interface Intention {
  /** mm/s, front first positive. */
  readonly goal: number;
  /** mm/s². */
  readonly acceleration: number;
  readonly braking: number;
}

/** Decides anew how a body moves from now on: what it is told, what hinders it, what feeds it. */
export function replan(simulation: Simulation, body: Body): void {
  const { now } = simulation.state;
  if (!body.present) return;
  const front = frontAt(body.motion, now);
  const speed = speedAt(body.motion, now);
  body.district = districtUnder(simulation, body);
  const intention = intend(simulation, body, speed);
  forgetContactsLeft(simulation, body);
  body.motion =
    intention === 'stand'
      ? steady(now, front, 0)
      : towards(now, front, speed, intention.goal, intention);
  const starts = speed === 0 && directionOf(body.motion) !== 0;
  if (starts) {
    if (!body.leftBehind) body.placedBy = null;
    moveOff(simulation, body);
  }
  schedule(simulation, body);
}

/** Stops a body dead where it is. */
export function stopDead(simulation: Simulation, body: Body): void {
  const { now } = simulation.state;
  body.motion = steady(now, frontAt(body.motion, now), 0);
  replan(simulation, body);
}

/** The locomotive whose commands the body follows: the first, from the front, that was given one. */
export function leadOf({ state }: Simulation, body: Body): number | null {
  let first: number | null = null;
  for (const { locomotive } of body.stretches) {
    if (locomotive < 0) continue;
    if (state.locomotives[locomotive]!.command !== null) return locomotive;
    first ??= locomotive;
  }
  return first;
}

function intend(simulation: Simulation, body: Body, speed: number): Intention | 'stand' {
  const { state, world } = simulation;
  const lead = leadOf(simulation, body);
  if (lead === null || body.stalls > 0) return 'stand';
  if (!state.districts[body.district]!.powered) return coast(simulation, body, speed);
  body.coasting = null;
  const train = world.stock.trains[body.train]!;
  const { rateFactor } = state.locomotives[lead]!;
  const goal = goalSpeed(simulation, body);
  const barred = pushes(simulation, body);
  if (barred && speed === 0) return 'stand';
  return {
    goal: barred ? 0 : goal,
    acceleration: train.acceleration * rateFactor,
    braking: train.braking * rateFactor,
  };
}

/**
 * On stored energy: evenly down to standing within the run-on, or before the energy is spent; a braking under way
 * goes on if that is shorter.
 */
function coast({ world }: Simulation, body: Body, speed: number): Intention | 'stand' {
  const runOn = (world.stock.trains[body.train]!.runOn * body.runOnPermille) / 1000;
  if (body.coasting === null) {
    const { speed: began, acceleration } = body.motion;
    const braking = began * acceleration < 0 ? Math.abs(acceleration) : 0;
    const enough = Math.max((speed * speed) / (2 * runOn), Math.abs(speed) / LONGEST_COAST);
    body.coasting = runOn > 0 ? Math.max(enough, braking) : 0;
  }
  const { coasting } = body;
  return speed === 0 || coasting === 0
    ? 'stand'
    : { goal: 0, acceleration: coasting, braking: coasting };
}

/** What it would run at if nothing were in its way; 0 when it has no locomotive or may not move at all. */
function goalSpeed(simulation: Simulation, body: Body): number {
  const lead = leadOf(simulation, body);
  if (lead === null) return 0;
  return body.runaway ?? (commandedSpeed(simulation, lead) * body.slipPermille) / 1000;
}

function commandedSpeed({ state, world }: Simulation, locomotive: number): number {
  const { command, speedFactor } = state.locomotives[locomotive]!;
  if (command === null) return 0;
  const { file, facingForward } = world.locomotives[locomotive]!;
  const table = command.forward ? file.speedTable.forward : file.speedTable.reverse;
  const speed = speedOfStep(table, command.step) * speedFactor;
  return command.forward === facingForward ? speed : -speed;
}

/** The district that feeds the leading locomotive; while nothing tells, the one that did before. */
function districtUnder(simulation: Simulation, body: Body): number {
  const lead = leadOf(simulation, body);
  const stretch = body.stretches.findIndex(({ locomotive }) => locomotive === lead);
  if (lead === null || stretch < 0) return body.district;
  for (const point of [stretch * 2, stretch * 2 + 1]) {
    const piece = wayAt(simulation, body, body.stepOf[point]!).pieces[body.pieceOf[point]!]!;
    const section = simulation.world.layout.sections[piece.section];
    if (section !== undefined) return section.district;
  }
  return body.district;
}

/** Whether it would move on against what it touches. */
function pushes(simulation: Simulation, body: Body): boolean {
  const goal = goalSpeed(simulation, body);
  return simulation.state.contacts.some(
    (it) =>
      (it.body === body.id && it.barsBody * goal > 0) ||
      (it.other === body.id && it.barsOther * goal > 0),
  );
}

/**
 * A body that moves off touches nothing any more. What still pushes after it stays where it is until it is told
 * otherwise: it has left the rails.
 */
function moveOff(simulation: Simulation, body: Body): void {
  for (const contact of contactsOf(simulation, body)) {
    const partner = contact.body === body.id ? contact.other : contact.body;
    if (partner >= 0 && pushes(simulation, simulation.state.bodies[partner]!)) contact.left = true;
    else endContact(simulation, contact);
  }
}

function forgetContactsLeft(simulation: Simulation, body: Body): void {
  if (pushes(simulation, body)) return;
  for (const contact of contactsOf(simulation, body)) {
    if (contact.left) endContact(simulation, contact);
  }
}

const contactsOf = ({ state }: Simulation, body: Body): readonly Contact[] =>
  state.contacts.filter((it) => it.body === body.id || it.other === body.id);

function endContact({ state }: Simulation, contact: Contact): void {
  state.contacts.splice(state.contacts.indexOf(contact), 1);
}
