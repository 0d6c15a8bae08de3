import { movesFrom, type PlannedMove } from '@blockbell/planning';
import type { World, WorkingGraph } from '@blockbell/railway';
import type { Trip } from '../booking/trips.js';
import { wayOver, type Way } from './way.js';

/** Ways looked at from one place; the engine's order of preference decides which. */
const MOST_WAYS = 48;

/** By trip of a train: the permitted ways from each place where it may stand before it. */
export type TrainWays = readonly ReadonlyMap<number, readonly Way[]>[];

/** All permitted ways of a train's trips from where it stands; null where none leads to the end of its work. */
export function permittedWays(
  world: World,
  train: number,
  trips: readonly Trip[],
): TrainWays | null {
  const graph = world.graphs[train]!;
  let starts: readonly number[] = [graph.start];
  const ways: Map<number, readonly Way[]>[] = [];
  for (const trip of trips) {
    const from = new Map<number, readonly Way[]>();
    for (const start of starts) {
      const found = movesTo(graph, start, trip.lastLeg + 1);
      from.set(
        start,
        found.map((moves, rank) => wayOver(world, trip, moves, rank)),
      );
    }
    ways.push(from);
    starts = [...new Set([...from.values()].flat().map(({ end }) => end))];
    if (starts.length === 0) return null;
  }
  return ways;
}

/** The moves by which the train comes from a stop to the beginning of the leg given. */
function movesTo(graph: WorkingGraph, start: number, leg: number): PlannedMove[][] {
  const found: PlannedMove[][] = [];
  const visit = (node: number, moves: readonly PlannedMove[]): void => {
    if (found.length >= MOST_WAYS) return;
    if (moves.length > 0 && graph.placeOf(node).leg >= leg) {
      found.push([...moves]);
      return;
    }
    for (const move of movesFrom(graph, node)) visit(move.to, [...moves, move]);
  };
  visit(start, []);
  return found;
}
