import type { Move, SafetyProblem, TrainGraph } from './safety-problem.js';

/** Steps of a train's preferred way that are taken into account. */
const REACH = 512;

/**
 * When each train's preferred way comes to each resource, to tell places where a train may wait from places
 * where it would stand head to head with another. A rule of thumb that steers the search; it decides nothing.
 */
export class HeadOnTable {
  #resources = 0;
  #trains = 0;
  /** Step at which the train first needs the resource, plus the base of this loading; below it: never. */
  #needed = new Float64Array(0);
  /** The same for resources it comes to stand on and has no choice about. */
  #bound = new Float64Array(0);
  #base = 0;

  load(problem: SafetyProblem, nodes: readonly number[]): void {
    this.#trains = nodes.length;
    this.#resources = problem.resourceCount;
    const size = nodes.length * problem.resourceCount;
    if (this.#needed.length < size) {
      this.#needed = new Float64Array(size);
      this.#bound = new Float64Array(size);
      this.#base = 0;
    }
    this.#base += REACH + 1;
    nodes.forEach((node, train) => this.#follow(problem.trains[train]!, train, node));
  }

  /** Whether the train, resting at the node, would face one that must come through there to let it go on. */
  threatens(problem: SafetyProblem, train: number, node: number): boolean {
    const graph = problem.trains[train]!;
    const onward = preferredMove(graph, node);
    if (onward === undefined) return false;
    const held = graph.holds(node);
    for (let other = 0; other < this.#trains; other += 1) {
      if (other !== train && this.#meets(other, held, onward)) return true;
    }
    return false;
  }

  #meets(other: number, held: readonly number[], onward: Move): boolean {
    const row = other * this.#resources;
    return held.some((resource) => {
      const arrival = this.#bound[row + resource]!;
      return (
        arrival >= this.#base &&
        onward.needs.some((next) => {
          const before = this.#needed[row + next]!;
          return before >= this.#base && before < arrival;
        })
      );
    });
  }

  #follow(graph: TrainGraph, train: number, start: number): void {
    const row = train * this.#resources;
    let node = start;
    for (const resource of graph.holds(node)) this.#needed[row + resource] = this.#base;
    for (let step = 1; step < REACH; step += 1) {
      const move = preferredMove(graph, node);
      if (move === undefined) return;
      for (const resource of move.needs) {
        if (this.#needed[row + resource]! < this.#base) {
          this.#needed[row + resource] = this.#base + step;
        }
      }
      if (graph.moves(node).length === 1) this.#bind(row, graph.holds(move.to), step);
      node = move.to;
    }
  }

  #bind(row: number, resources: readonly number[], step: number): void {
    for (const resource of resources) {
      if (this.#bound[row + resource]! < this.#base) {
        this.#bound[row + resource] = this.#base + step;
      }
    }
  }
}

function preferredMove(graph: TrainGraph, node: number): Move | undefined {
  return graph.isGoal(node) ? undefined : graph.moves(node)[0];
}
