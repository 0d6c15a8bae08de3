import { blockOf, callBefore, useWork, type World } from '@blockbell/railway';
import type { Problem } from '@blockbell/scheduling';
import type { Situation, TrainSituation } from '../situation/situation.js';
import { MOST_PLACES } from './choices.js';
import { knownArrivals } from './connections.js';
import { placesAhead, type PlacesAhead } from './places.js';
import { withResources } from './resources.js';
import { tracksByRules } from './tracks-by-rules.js';
import { trainOperations } from './train-operations.js';
import type { TrainPlan } from './train-plan.js';
import { withWishedOrder } from './wished-order.js';

/** A scheduling problem, and what its trains and operations stand for. Times in ticks from the situation's moment on. */
export interface PlanningProblem {
  readonly problem: Problem;
  /** By train of the problem. */
  readonly plans: readonly TrainPlan[];
}

/**
 * The question what trains should do from a situation on, until each has come to the first call from which it is booked to
 * leave after the horizon (ms). Held and closed things stay so until then; nothing beyond counts.
 * @param world of the planner's own: its graphs number the places it looks at
 */
export function buildProblem(world: World, situation: Situation, horizon: number): PlanningProblem {
  useWork(world, situation.added);
  const byRules = tracksByRules(world, situation);
  const aheads = situation.trains.map((state, train) =>
    state === null
      ? null
      : workAhead(world, situation, withTrack(state, byRules[train] ?? null), train, horizon),
  );
  const arrivals = knownArrivals(world, situation, aheads);
  const free = situation.trains.flatMap((state, train): TrainPlan[] => {
    if (state === null) return [];
    const ahead = aheads[train] ?? null;
    return [trainOperations({ world, situation, train, state, ahead, horizon, arrivals })];
  });
  const plans = withWishedOrder(situation, free, -1 - world.timetable.connections.length);
  const problem: Problem = {
    trains: withResources(world.layout, plans),
    objective: plans.flatMap(({ costs }, train) =>
      costs.map((cost) => ({ type: 'op_delay', train, ...cost })),
    ),
  };
  return { problem, plans };
}

/** The track that a yard's rules would choose counts as one that a dispatcher chose, where none did. */
const withTrack = (
  state: TrainSituation,
  track: TrainSituation['tracks'][number] | null,
): TrainSituation => (track === null ? state : { ...state, tracks: [...state.tracks, track] });

/** The places of a train up to the horizon; less far where that would be too many. */
function workAhead(
  world: World,
  { fast, ratio }: Situation,
  { place, tracks, cancelledFrom }: TrainSituation,
  train: number,
  horizon: number,
): PlacesAhead | null {
  const graph = world.graphs[train]!;
  const start = graph.nodeFor(place);
  let endLeg = place.leg + 1;
  while (endLeg < graph.legCount) {
    const depart = callBefore(world, train, endLeg)?.depart ?? null;
    if (graph.stops[endLeg]!.stops && depart !== null && (depart - fast) / ratio > horizon) break;
    endLeg++;
  }
  const last = Math.min(endLeg, graph.legCount, cancelledFrom ?? graph.legCount);
  const isWished = (from: number, to: number): boolean => {
    const { leg } = graph.placeOf(from);
    const reached = graph.placeOf(to);
    const wish = reached.leg > leg ? tracks.find((it) => it.leg === leg) : undefined;
    return wish === undefined || wish.blocks.includes(blockOf(reached.heading));
  };
  for (endLeg = last; endLeg > place.leg; endLeg--) {
    const ahead =
      placesAhead(graph, start, endLeg, MOST_PLACES, isWished) ??
      placesAhead(graph, start, endLeg, MOST_PLACES);
    if (ahead !== null) return ahead;
  }
  return null;
}
