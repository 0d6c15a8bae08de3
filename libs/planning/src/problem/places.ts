import type { MoveMeaning, WorkingGraph } from '@blockbell/railway';

/** A move between two places of a train's work, by node numbers of its graph. */
export interface PlannedMove extends MoveMeaning {
  readonly from: number;
  readonly to: number;
  readonly needs: readonly number[];
  /** What the train has while it makes the move: what it holds before, and what it needs. */
  readonly takes: readonly number[];
}

/** The part of a train's work that a plan covers. */
export interface PlacesAhead {
  readonly start: number;
  /** In an order in which no move leads back; the start first. Each leads on to an end. */
  readonly nodes: readonly number[];
  /** By node; none at an end. */
  readonly moves: ReadonlyMap<number, readonly PlannedMove[]>;
  /** Leg whose beginning is the end of the plan. */
  readonly endLeg: number;
}

/**
 * The places a train may come to until it begins `endLeg`, with the moves between them; null if no way leads there, or
 * more than `most` places would have to be looked at. `isWished`: whether a move between two places is to be considered.
 */
export function placesAhead(
  graph: WorkingGraph,
  start: number,
  endLeg: number,
  most: number,
  isWished: (from: number, to: number) => boolean = () => true,
): PlacesAhead | null {
  const all = new Map<number, readonly PlannedMove[]>();
  const order: number[] = [];
  const leads = new Set<number>();
  const visit = (node: number): void => {
    if (all.has(node) || all.size > most) return;
    const isEnd = graph.isGoal(node) || graph.placeOf(node).leg >= endLeg;
    const moves = isEnd ? [] : movesFrom(graph, node).filter(({ to }) => isWished(node, to));
    all.set(node, moves);
    for (const { to } of moves) visit(to);
    if (isEnd || moves.some(({ to }) => leads.has(to))) leads.add(node);
    order.push(node);
  };
  visit(start);
  if (all.size > most || !leads.has(start)) return null;
  const moves = new Map(
    [...all].map(([node, ways]) => [node, ways.filter(({ to }) => leads.has(to))]),
  );
  return { start, nodes: order.reverse().filter((node) => leads.has(node)), moves, endLeg };
}

/** By graph and node: a graph's nodes keep their numbers and their moves for as long as it lives. */
const known = new WeakMap<WorkingGraph, (readonly PlannedMove[] | undefined)[]>();

/** The moves by which a train may go on from a place, best first; each time the same. */
export function movesFrom(graph: WorkingGraph, node: number): readonly PlannedMove[] {
  let ofGraph = known.get(graph);
  if (ofGraph === undefined) known.set(graph, (ofGraph = []));
  return (ofGraph[node] ??= graph.moves(node).map(({ to, needs }) => ({
    from: node,
    to,
    needs,
    takes: [...new Set([...graph.holds(node), ...needs])],
    ...graph.meaningOf(node, to),
  })));
}
