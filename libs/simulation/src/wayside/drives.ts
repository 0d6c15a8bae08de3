import { push } from '../event-queue.js';
import { recordIncident } from '../incidents.js';
import { nextBetween } from '../random.js';
import type { Body, DriveState, Simulation } from '../state.js';
import type { Exit, Gap, Way } from '../track/ways.js';
import { oppositeWay } from '../track/ways.js';
import { extentAt, wayAt } from '../train/body.js';
import { directionOf, speedAt } from '../train/motion.js';
import { sendAt } from './messages.js';

/** Shares of the throw time in permille: the blades take 300 to 900 of it, the message that proves them the rest. */
const QUICKEST = 300;
const SLOWEST = 900;

/** Longest time until a drive tells that it moves, or that it lies already where it is told to go, ms. */
const TOLD_WITHIN = 20;

/** A command to a turnout or reversing section. A stuck one ignores it. */
export function setDrive(simulation: Simulation, element: number, position: string): void {
  const { now } = simulation.state;
  const { drive, info } = driveOf(simulation, element);
  if (!info.positions.includes(position)) {
    throw new RangeError(`element ${element} has no position ${position}`);
  }
  if (drive.stuck > 0 || drive.moving === position) return;
  const told = Math.ceil(now) + nextBetween(drive.stream, 1, Math.min(TOLD_WITHIN, info.throwTime));
  if (drive.moving === null && drive.position === position) {
    if (info.feedback) sendAt(simulation, told, { kind: 'drive', element, position });
    return;
  }
  const share = nextBetween(drive.stream, QUICKEST, SLOWEST);
  drive.moving = position;
  drive.move += 1;
  const arrives = now + (info.throwTime * share) / 1000;
  push(simulation.state.queue, { at: arrives, kind: 'drive', element, move: drive.move });
  if (info.feedback && told < arrives) {
    sendAt(simulation, told, { kind: 'drive', element, position: null });
  }
  recordMovedUnder(simulation, element);
}

/** The blades lie in their new position. */
export function arriveDrive(simulation: Simulation, element: number): void {
  const { now } = simulation.state;
  const { drive, info } = driveOf(simulation, element);
  const position = drive.moving ?? drive.position;
  drive.position = position;
  drive.moving = null;
  if (!info.feedback) return;
  const delay = Math.floor((info.throwTime * (1000 - SLOWEST)) / 1000);
  const told = nextBetween(drive.stream, Math.ceil(now), Math.floor(now + delay));
  sendAt(simulation, told, { kind: 'drive', element, position });
}

/** Whether rails on both sides of a gap have like polarity. While its relay moves they haven't. */
export function isMatched({ state }: Simulation, gap: Gap): boolean {
  const drive = state.drives[gap.reversing]!;
  return drive.moving === null && drive.position === gap.polarity;
}

/** The way a train takes over the next element as its drive lies, and whether the drive lets it. */
export function chooseWay(
  { state, world }: Simulation,
  exit: Exit,
): { readonly way: Way; readonly fits: boolean } {
  const drive = state.drives[exit.element] ?? null;
  const { ways } = world.track;
  const set = exit.ways.find((way) => drive === null || ways[way]!.position === drive.position);
  const fits = set !== undefined && (drive === null || drive.moving === null);
  return { way: ways[set ?? exit.ways[0]!]!, fits };
}

/** Writes down a drive that begins to move under a train, or so near before one that it can't stop any more. */
function recordMovedUnder(simulation: Simulation, element: number): void {
  const { state, world } = simulation;
  const { id, legs } = world.layout.elements[element]!;
  for (const body of state.bodies) {
    if (!body.present) continue;
    const under =
      state.holders[element]!.some((it) => it.body === body.id && it.slot < legs.length) ||
      bridges(simulation, body, element);
    if (under) recordIncident(simulation, 'moved-under', element, [body], `${id} moved under it`);
    else if (runsOnto(simulation, body, element)) {
      recordIncident(simulation, 'moved-under', element, [body], `${id} moved just before it`);
    }
  }
}

function bridges(simulation: Simulation, body: Body, reversing: number): boolean {
  return body.ways.some((_, step) => {
    const exit = step < body.ways.length - 1 ? wayAt(simulation, body, step).next : null;
    return exit?.gaps.some((gap) => gap.reversing === reversing) ?? false;
  });
}

/** Whether a moving body can't stop short of an element (or of a gap) any more, the way the track lies now. */
function runsOnto(simulation: Simulation, body: Body, element: number): boolean {
  const { state, world } = simulation;
  const speed = Math.abs(speedAt(body.motion, state.now));
  if (speed === 0) return false;
  const { front, rear } = extentAt(body, state.now);
  const forward = directionOf(body.motion) === 1;
  const last = body.ways.length - 1;
  let way = forward ? wayAt(simulation, body, last) : world.track.ways[oppositeWay(body.ways[0]!)]!;
  let toEnd = forward ? body.starts[last]! + way.length - front : rear - body.starts[0]!;
  const stopping = (speed * speed) / (2 * world.stock.trains[body.train]!.braking);
  while (toEnd < stopping) {
    const exit = way.next;
    if (exit === null) return false;
    if (exit.element === element || exit.gaps.some((gap) => gap.reversing === element)) return true;
    way = chooseWay(simulation, exit).way;
    toEnd += way.length;
  }
  return false;
}

function driveOf(
  { state, world }: Simulation,
  element: number,
): {
  readonly drive: DriveState;
  readonly info: NonNullable<(typeof world.layout.elements)[number]['drive']>;
} {
  const drive = state.drives[element] ?? null;
  const info = world.layout.elements[element]?.drive ?? null;
  if (drive === null || info === null) throw new RangeError(`element ${element} has no drive`);
  return { drive, info };
}
