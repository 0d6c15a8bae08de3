/**
 * The question behind every grant, free of tracks and trains: trains stand at nodes, each node holds
 * resources, a move takes a train to its next node and needs resources that no other train holds. A state is
 * safe when an order of moves exists that brings every train to a goal; otherwise it is doomed.
 *
 * Nodes are numbered per train, found lazily and never forgotten, so that a node number means the same
 * for as long as the graph lives.
 */
export interface Move {
  /** Node reached. */
  readonly to: number;
  /** Resources the move needs; held by no other train. Includes what the node reached holds. */
  readonly needs: readonly number[];
  /**
   * Resources among `needs` that the train may not itself hold at the node it leaves (a turnout wanted in another
   * position, the polarity of a loop its tail still bridges). Mostly empty.
   */
  readonly needsFreeOfSelf: readonly number[];
}

export interface TrainGraph {
  /** Moves from a node, best first. Empty at a goal. */
  moves(node: number): readonly Move[];
  /** What the train holds while it rests at the node. Empty once it has left the railway. */
  holds(node: number): readonly number[];
  /** Whether its work is done there. */
  isGoal(node: number): boolean;
  /** A lower bound of moves from the node to a goal. */
  distance(node: number): number;
}

export interface SafetyProblem {
  readonly resourceCount: number;
  readonly trains: readonly TrainGraph[];
}

/** One step of a proven order. */
export interface OrderStep {
  readonly train: number;
  readonly to: number;
}

export type SafetyVerdict =
  | { readonly kind: 'safe'; readonly order: readonly OrderStep[] }
  | { readonly kind: 'doomed' }
  | { readonly kind: 'searching' }
  | { readonly kind: 'exhausted'; readonly expansions: number };
