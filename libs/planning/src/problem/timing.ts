import {
  blockOf,
  LOOK_AHEAD,
  lengthOf,
  reversedTrail,
  type Layout,
  type Place,
  type Train,
  type Trail,
  type WorkingGraph,
} from '@blockbell/railway';
import { ANY_SPEED, STANDING, timeOver } from '../situation/running.js';
import { STARTING } from './choices.js';
import type { PlannedMove } from './places.js';

/** How long a move takes, physical ms. */
export interface MoveTime {
  /** Until the tail has left all that isn't held at the place reached. */
  readonly clearing: number;
  /** From there until the head is at its mark. */
  readonly rest: number;
}

/** How long a train without a stop must have its next route before its head is at the mark it would stop at. */
export function approachTime({ topSpeed, braking }: Train): number {
  return LOOK_AHEAD + Math.round((topSpeed * 1000) / (2 * braking));
}

/** Times of moves, in passing and from a stand. A move is of one train's graph, which is always of the same layout. */
const known = new WeakMap<PlannedMove, { passing: MoveTime | null; starting: MoveTime | null }>();

/** The time of a move over a route, from a stand or in passing; reckoned once. */
export function moveTime(
  layout: Layout,
  train: Train,
  graph: WorkingGraph,
  move: PlannedMove,
  starts: boolean,
): MoveTime {
  let times = known.get(move);
  if (times === undefined) known.set(move, (times = { passing: null, starting: null }));
  return (times[starts ? 'starting' : 'passing'] ??= reckonMove(
    layout,
    train,
    graph,
    move,
    starts,
  ));
}

function reckonMove(
  layout: Layout,
  train: Train,
  graph: WorkingGraph,
  { from, to, route, reverses }: PlannedMove,
  starts: boolean,
): MoveTime {
  if (route === null) return { clearing: 0, rest: 0 };
  const origin = graph.placeOf(from);
  const reached = graph.placeOf(to);
  const trail = reverses ? reversedTrail(layout, origin.trail) : origin.trail;
  const way = layout.routes[route]!;
  const steps = [...trail, ...way.steps];
  const run = {
    steps,
    from: headBefore(layout, train, origin, reverses ? null : way.from),
    to: lengthOf(steps) - stopMark(layout, way.to),
    enters: starts ? STANDING : ANY_SPEED,
    leaves: stopsAt(graph, reached) ? STANDING : ANY_SPEED,
  };
  const whole = timeOver(train, run);
  const cleared = clearedAt(steps, reached.trail);
  const clearing =
    cleared === null ? whole : timeOver(train, run, cleared + train.length - run.from);
  return {
    clearing: clearing + (starts ? STARTING + throwTime(layout, way.steps) : 0),
    rest: whole - clearing,
  };
}

/**
 * Where the head of a train at rest is, in mm from the rear of its trail: at the mark for the heading in which it leaves, or, where
 * it turns round first (null), its length behind the mark at which it had come to stand.
 */
export function headBefore(
  layout: Layout,
  train: Train,
  { trail, heading }: Place,
  leaves: number | null,
): number {
  return leaves === null
    ? stopMark(layout, heading) + train.length
    : lengthOf(trail) - stopMark(layout, leaves);
}

const stopMark = (layout: Layout, heading: number): number =>
  layout.elements[blockOf(heading)]!.stopMarks[heading & 1]!;

const stopsAt = (graph: WorkingGraph, place: Place): boolean =>
  place.atStop || place.leg >= graph.legCount;

/** Where the tail must be past, in mm from the rear, for the train to hold no more than the trail at the end. */
export function clearedAt(steps: Trail, kept: Trail): number | null {
  let end = 0;
  let cleared: number | null = null;
  for (const { leg } of steps.slice(0, steps.length - kept.length)) {
    end += leg.length;
    cleared = Math.max(cleared ?? 0, end + leg.foulingBeyondTo);
  }
  return cleared;
}

/** The longest throw on the way; the drives throw together. */
export function throwTime({ elements }: Layout, steps: Trail): number {
  return steps.reduce(
    (longest, { element, leg }) =>
      leg.position === null ? longest : Math.max(longest, elements[element]!.drive?.throwTime ?? 0),
    0,
  );
}
