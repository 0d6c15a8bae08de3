import type { WorkingGraph } from './working-graph.js';
import type { CallRef } from './working-stops.js';

/** Leg `k` of a working leads from its stop `k` to its stop `k + 1`. */

/** The leg a train at the node is on or begins next. */
export const legOf = (graph: WorkingGraph, node: number): number => graph.placeOf(node).leg;

/** The call a leg begins at; null where the train stands away from its first call, or its work is done. */
export const callFrom = (graph: WorkingGraph, leg: number): CallRef | null =>
  graph.stops[leg]?.calls.at(-1) ?? null;

/** The call a leg leads to; null when its work is done. */
export const callTo = (graph: WorkingGraph, leg: number): CallRef | null =>
  graph.stops[leg + 1]?.calls[0] ?? null;

/** Whether the train stops at the end of the leg. */
export const legStops = (graph: WorkingGraph, leg: number): boolean =>
  graph.stops[leg + 1]?.stops ?? true;
