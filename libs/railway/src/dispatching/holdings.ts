import type { Move, SafetyProblem } from './safety-problem.js';

/** Answer of {@link Holdings.blockerOf} when nothing stands in the way of a move. */
export const UNBLOCKED = -1;

/**
 * Who holds what in one state. A scratch object to compute with, never part of a state: it is loaded from the
 * nodes of the trains and then kept up from move to move. Loading does not touch the resources that nobody
 * holds, so that a small question on a large railway stays cheap.
 *
 * Trains that are joining may share a resource; the counts keep such a state exact too.
 */
export class Holdings {
  readonly nodes: number[] = [];
  /** How many trains are not at a goal. */
  unfinished = 0;
  #problem: SafetyProblem = { resourceCount: 0, trains: [] };
  #epoch = 0;
  #touched = new Uint32Array(0);
  /** How many trains hold the resource, and the sum of their numbers: with one holder, its number. */
  #holders = new Int32Array(0);
  #sum = new Int32Array(0);

  load(problem: SafetyProblem, nodes: readonly number[]): void {
    this.#problem = problem;
    if (this.#touched.length < problem.resourceCount) {
      this.#touched = new Uint32Array(problem.resourceCount * 2);
      this.#holders = new Int32Array(problem.resourceCount * 2);
      this.#sum = new Int32Array(problem.resourceCount * 2);
      this.#epoch = 0;
    }
    this.#epoch += 1;
    this.unfinished = 0;
    this.nodes.length = 0;
    for (let train = 0; train < nodes.length; train += 1) {
      this.nodes.push(nodes[train]!);
      this.#add(train, nodes[train]!);
    }
  }

  /** Puts a train at another node, forwards or back; whether that is legal is not asked here. */
  place(train: number, node: number): void {
    const graph = this.#problem.trains[train]!;
    const from = this.nodes[train]!;
    if (!graph.isGoal(from)) this.unfinished -= 1;
    for (const resource of graph.holds(from)) {
      this.#holders[resource]! -= 1;
      this.#sum[resource]! -= train;
    }
    this.nodes[train] = node;
    this.#add(train, node);
  }

  /**
   * Whether a train standing at `from` could make the move now: {@link UNBLOCKED}, or a train that stands in
   * its way. That is the train itself when it bridges something the move must change first.
   */
  blockerOf(train: number, from: number, move: Move): number {
    for (const resource of move.needs) {
      const other = this.otherHolder(train, resource);
      if (other !== UNBLOCKED) return other;
    }
    return this.bridges(train, from, move) ? train : UNBLOCKED;
  }

  /** Whether the train, standing at `from`, itself holds what the move must find free. */
  bridges(train: number, from: number, move: Move): boolean {
    if (move.needsFreeOfSelf.length === 0) return false;
    const own = this.#problem.trains[train]!.holds(from);
    return move.needsFreeOfSelf.some((resource) => own.includes(resource));
  }

  /** A train other than this one that holds the resource, or {@link UNBLOCKED}. */
  otherHolder(train: number, resource: number): number {
    if (this.#touched[resource] !== this.#epoch) return UNBLOCKED;
    const holders = this.#holders[resource]!;
    if (holders === 0) return UNBLOCKED;
    if (holders === 1) return this.#sum[resource] === train ? UNBLOCKED : this.#sum[resource]!;
    return this.nodes.findIndex(
      (node, other) =>
        other !== train && this.#problem.trains[other]!.holds(node).includes(resource),
    );
  }

  #add(train: number, node: number): void {
    const graph = this.#problem.trains[train]!;
    if (!graph.isGoal(node)) this.unfinished += 1;
    for (const resource of graph.holds(node)) {
      if (this.#touched[resource] !== this.#epoch) {
        this.#touched[resource] = this.#epoch;
        this.#holders[resource] = 0;
        this.#sum[resource] = 0;
      }
      this.#holders[resource]! += 1;
      this.#sum[resource]! += train;
    }
  }
}
