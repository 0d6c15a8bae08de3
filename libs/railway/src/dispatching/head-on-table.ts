import type { Move, SafetyProblem, TrainGraph } from './safety-problem.js';

/** Steps of a train's preferred way that are taken into account. */
const REACH = 512;

const NOWHERE = -1;

/**
 * When each train's preferred way comes to each resource, to tell places where a train may wait from places
 * where it would stand head to head with another. A rule of thumb that steers the search; it decides nothing.
 */
export class HeadOnTable {
  #resources = 0;
  #trains = 0;
  /** Step at which the train first needs the resource, plus the base of its row; below that: never. */
  #needed = new Float64Array(0);
  /** The same for resources it comes to stand on and has no choice about. */
  #bound = new Float64Array(0);
  /** The base of each train's row, and the node the row begins from. */
  #bases: number[] = [];
  #origins: number[] = [];
  #base = 0;

  /** Forgets all rows, for another problem or a graph that may have changed. */
  clear(problem: SafetyProblem): void {
    this.#trains = problem.trains.length;
    this.#resources = problem.resourceCount;
    this.#origins = problem.trains.map(() => NOWHERE);
    this.#bases = problem.trains.map(() => 0);
    const size = this.#trains * this.#resources;
    if (this.#needed.length < size) {
      this.#needed = new Float64Array(size);
      this.#bound = new Float64Array(size);
      this.#base = 0;
    }
  }

  /** Brings the rows of trains that have moved up to date. */
  load(problem: SafetyProblem, nodes: readonly number[]): void {
    for (let train = 0; train < nodes.length; train += 1) {
      if (this.#origins[train] !== nodes[train]) {
        this.#base += REACH;
        this.#bases[train] = this.#base;
        this.#origins[train] = nodes[train]!;
        this.#follow(problem.trains[train]!, train, nodes[train]!);
      }
    }
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
    const base = this.#bases[other]!;
    return held.some((resource) => {
      const arrival = this.#bound[row + resource]!;
      return (
        arrival >= base &&
        onward.needs.some((next) => {
          const before = this.#needed[row + next]!;
          return before >= base && before < arrival;
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
