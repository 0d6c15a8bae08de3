import { recordIncident } from '../incidents.js';
import type { Body, Simulation } from '../state.js';
import { oppositeWay } from '../track/ways.js';
import type { Exit, Way } from '../track/ways.js';
import { chooseWay, isMatched } from '../wayside/drives.js';
import { districtAt, trip } from '../wayside/power.js';
import { trimWays, wayAt } from './body.js';
import { meetOn, strikeEnd } from './contact.js';
import { cover } from './coverage.js';
import { directionOf } from './motion.js';
import { replan } from './plan.js';
import { schedule } from './schedule.js';

/** What was due for a body happens. */
export function runBody(simulation: Simulation, body: Body): void {
  const { due } = body;
  switch (due.kind) {
    case 'nothing':
      return;
    case 'goal-speed':
      replan(simulation, body);
      return;
    case 'contact': {
      const other = simulation.state.bodies[due.other]!;
      if (!meetOn(simulation, body, other, due.way)) schedule(simulation, body);
      return;
    }
    case 'crossing':
      cross(simulation, body, due.point);
  }
}

/** A point of the body passes from its piece into the next. */
function cross(simulation: Simulation, body: Body, point: number): void {
  const direction = directionOf(body.motion);
  if (direction === 0) return;
  const stretch = point >> 1;
  const leads = ((point & 1) === 0) === (direction === 1);
  if (leads && stretch === 0 && isAtEnd(simulation, body, direction)) {
    const exit = wayAhead(simulation, body, direction).next;
    if (exit === null) {
      strikeEnd(simulation, body, wayAhead(simulation, body, direction).element);
      return;
    }
    enter(simulation, body, exit, direction);
  }
  if (!leads) cover(simulation, body, stretch, pieceOf(simulation, body, point), -1);
  advance(simulation, body, point, direction);
  if (leads) cover(simulation, body, stretch, pieceOf(simulation, body, point), 1);
  else if (stretch === 0) trimWays(body);
  const { section } = pieceOf(simulation, body, point);
  const feeds = simulation.world.layout.sections[section]?.district ?? body.district;
  const drawsElsewhere = body.stretches[stretch]!.locomotive >= 0 && feeds !== body.district;
  if (drawsElsewhere) replan(simulation, body);
  else schedule(simulation, body);
}

const pieceOf = (simulation: Simulation, body: Body, point: number) =>
  wayAt(simulation, body, body.stepOf[point]!).pieces[body.pieceOf[point]!]!;

/** Whether the leading end is in the last piece of the body's path. */
function isAtEnd(simulation: Simulation, body: Body, direction: 1 | -1): boolean {
  if (direction === -1) return body.stepOf[1] === 0 && body.pieceOf[1] === 0;
  const last = body.ways.length - 1;
  return (
    body.stepOf[0] === last && body.pieceOf[0] === wayAt(simulation, body, last).pieces.length - 1
  );
}

/** The way under the leading end, in the direction of motion. */
const wayAhead = (simulation: Simulation, body: Body, direction: 1 | -1): Way =>
  direction === 1
    ? wayAt(simulation, body, body.ways.length - 1)
    : simulation.world.track.ways[oppositeWay(body.ways[0]!)]!;

/** The leading end comes to the next element: its drive decides the way, fitting or not. */
function enter(simulation: Simulation, body: Body, exit: Exit, direction: 1 | -1): void {
  const { way, fits } = chooseWay(simulation, exit);
  if (!fits) {
    const { id } = simulation.world.layout.elements[exit.element]!;
    const moving = simulation.state.drives[exit.element]?.moving !== null;
    const detail = moving ? `entered ${id} while it moved` : `entered ${id} against its position`;
    recordIncident(simulation, 'run-through', exit.element, [body], detail);
  }
  const fed = body.district;
  if (direction === 1) {
    const last = body.ways.length - 1;
    body.starts.push(body.starts[last]! + wayAt(simulation, body, last).length);
    body.ways.push(way.index);
  } else {
    body.starts.unshift(body.starts[0]! - way.length);
    body.ways.unshift(oppositeWay(way.index));
    for (let point = 0; point < body.stepOf.length; point += 1) body.stepOf[point]! += 1;
  }
  const clash = exit.gaps.find((gap) => !isMatched(simulation, gap));
  if (clash === undefined) return;
  const district = districtAt(simulation, exit.element);
  recordIncident(
    simulation,
    'wrong-polarity',
    clash.reversing,
    [body],
    'bridged a gap of unlike polarity',
  );
  trip(simulation, district < 0 ? fed : district);
}

function advance(simulation: Simulation, body: Body, point: number, direction: 1 | -1): void {
  const step = body.stepOf[point]!;
  const piece = body.pieceOf[point]! + direction;
  if (piece >= 0 && piece < wayAt(simulation, body, step).pieces.length) {
    body.pieceOf[point] = piece;
    return;
  }
  body.stepOf[point] = step + direction;
  body.pieceOf[point] =
    direction === 1 ? 0 : wayAt(simulation, body, step + direction).pieces.length - 1;
}
