import {
  approachTime,
  ARRIVING,
  clearedAt,
  headBefore,
  STANDING,
  STARTING,
  throwTime,
  timeOver,
  type PlannedMove,
  type Run,
} from '@blockbell/planning';
import { blockOf, lengthOf, reversedTrail, type Layout, type World } from '@blockbell/railway';
import type { Trip } from '../booking/trips.js';

/** Something held over a span of a way, physical ms after the departure. */
export interface Segment {
  readonly from: number;
  readonly to: number;
  readonly holds: readonly number[];
}

/** One permitted way of a trip, run as fast as the train can. All times physical ms after the departure. */
export interface Way {
  /** Nodes of the train's graph. */
  readonly start: number;
  readonly end: number;
  /** Until the head is at its mark: the running time. */
  readonly run: number;
  /** Until the arrival is noted, some seconds of creeping up and proof later. */
  readonly arrived: number;
  /** When the head comes into the track of a call that it passes, by leg. */
  readonly passes: ReadonlyMap<number, number>;
  /** One after the other, without gaps, from the departure to the arrival. */
  readonly segments: readonly Segment[];
  /** What it holds before the departure and after the arrival. */
  readonly before: readonly number[];
  readonly after: readonly number[];
  /** Place in the order of preference among the ways from the same start. */
  readonly rank: number;
}

/** How a train runs over moves that lead from a stop to the next one. */
export function wayOver(
  world: World,
  trip: Trip,
  moves: readonly PlannedMove[],
  rank: number,
): Way {
  const { layout } = world;
  const graph = world.graphs[trip.train]!;
  const train = world.stock.trains[trip.train]!;
  const start = moves[0]!.from;
  const end = moves.at(-1)!.to;
  const places = moves.map(({ to }) => graph.placeOf(to));
  const origin = graph.placeOf(start);
  const { leg: firstLeg } = origin;
  const { reverses } = moves[0]!;
  const trail = reverses ? reversedTrail(layout, origin.trail) : origin.trail;
  const routes = moves.map(({ route }) => (route === null ? null : layout.routes[route]!));
  const steps = [...trail, ...routes.flatMap((route) => route?.steps ?? [])];

  const first = routes.find((route) => route !== null);
  const from =
    first === undefined
      ? lengthOf(trail)
      : headBefore(layout, train, origin, reverses ? null : first.from);
  let count = trail.length;
  const marks = routes.map((route) => {
    count += route?.steps.length ?? 0;
    const passed = steps.slice(0, count);
    const end = lengthOf(passed);
    return {
      passed,
      enters: end - passed.at(-1)!.leg.length,
      at: route === null ? from : end - stopMark(layout, route.to),
    };
  });
  const to = marks.at(-1)!.at;
  const run: Run = { steps, from, to, enters: STANDING, leaves: STANDING };
  const sets = STARTING + throwTime(layout, first?.steps ?? []);
  const timeTo = (place: number): number =>
    place <= from ? sets : sets + timeOver(train, run, place - from);

  const lead = approachTime(train);
  const segments: Segment[] = [];
  const passes = new Map<number, number>();
  let now = 0;
  let held: readonly number[] = graph.holds(start);
  moves.forEach(({ to: node, needs }, i) => {
    const granted = i === 0 ? 0 : Math.max(now, timeTo(marks[i - 1]!.at) - lead);
    if (granted > now) segments.push({ from: now, to: granted, holds: held });
    const cleared = clearedAt(marks[i]!.passed, places[i]!.trail);
    const clear = Math.max(granted, cleared === null ? 0 : timeTo(cleared + train.length));
    segments.push({ from: granted, to: clear, holds: [...new Set([...held, ...needs])] });
    now = clear;
    held = graph.holds(node);
    const { leg } = places[i]!;
    for (let passed = i === 0 ? firstLeg : places[i - 1]!.leg; passed < leg; passed++)
      if (passed < trip.lastLeg) passes.set(passed, timeTo(marks[i]!.enters));
  });
  const ran = timeTo(to);
  const arrived = Math.max(now, ran + ARRIVING);
  segments.push({ from: now, to: arrived, holds: held });
  return {
    start,
    end,
    run: ran,
    arrived,
    passes,
    segments,
    before: graph.holds(start),
    after: graph.holds(end),
    rank,
  };
}

const stopMark = (layout: Layout, heading: number): number =>
  layout.elements[blockOf(heading)]!.stopMarks[heading & 1]!;
