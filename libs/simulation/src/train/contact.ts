import type { ElementIndex } from '@blockbell/railway/track';
import { recordIncident } from '../incidents.js';
import type { Body, Contact, Simulation } from '../state.js';
import { directionOf } from './motion.js';
import { stopDead } from './plan.js';
import { gapOn, inContact, senseOn, TOUCHING } from './schedule.js';

/** Two bodies met on a leg, if they really did: the other may have moved since this was foreseen. */
export function meetOn(simulation: Simulation, body: Body, other: Body, way: number): boolean {
  const found = gapOn(simulation, body, other, way);
  if (found === null || found.gap > TOUCHING) return false;
  const { behind, ahead } = found;
  const bars = (it: Body): 1 | -1 =>
    (senseOn(simulation, it, way) * (it === behind ? 1 : -1)) as 1 | -1;
  const detail = `${labelOf(simulation, behind)} and ${labelOf(simulation, ahead)} touch`;
  const element = simulation.world.track.ways[way]!.element;
  touch(simulation, element, detail, {
    body: behind.id,
    other: ahead.id,
    barsBody: bars(behind),
    barsOther: bars(ahead),
    left: false,
  });
  return true;
}

/** A body came foul of another on a turnout or crossing. Each is barred from going on as it went. */
export function meetAcross(
  simulation: Simulation,
  body: Body,
  other: Body,
  element: ElementIndex,
): void {
  if (inContact(simulation, body.id, other.id)) return;
  const detail = `${labelOf(simulation, body)} fouls ${labelOf(simulation, other)}`;
  touch(simulation, element, detail, {
    body: body.id,
    other: other.id,
    barsBody: directionOf(body.motion),
    barsOther: directionOf(other.motion),
    left: false,
  });
}

/** A body ran against the end of the track. */
export function strikeEnd(simulation: Simulation, body: Body, element: ElementIndex): void {
  const detail = `${labelOf(simulation, body)} ran against the end of the track`;
  recordIncident(simulation, 'buffer-struck', element, [body], detail);
  simulation.state.contacts.push({
    body: body.id,
    other: -1,
    barsBody: directionOf(body.motion),
    barsOther: 0,
    left: false,
  });
  stopDead(simulation, body);
}

function touch(
  simulation: Simulation,
  element: ElementIndex,
  detail: string,
  contact: Contact,
): void {
  const { bodies, contacts } = simulation.state;
  const pair = [bodies[contact.body]!, bodies[contact.other]!];
  recordIncident(simulation, 'contact', element, pair, detail);
  contacts.push(contact);
  for (const body of pair) stopDead(simulation, body);
}

function labelOf({ world }: Simulation, body: Body): string {
  const name = world.stock.trains[body.train]!.file.id;
  return body.leftBehind ? `cars left by ${name}` : `train ${name}`;
}
