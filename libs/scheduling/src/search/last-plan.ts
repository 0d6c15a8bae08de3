import type { Model, OrderChoice } from '../model/model.js';
import type { Plan } from '../problem/problem.js';

/** A plan as the model sees it. It may be a plan for a problem that was a little different. */
export class LastPlan {
  /** Start by node; −1 for nodes no train comes by. */
  readonly starts: Float64Array;
  readonly #position: Int32Array;

  constructor(
    private readonly model: Model,
    plan: Plan,
  ) {
    const { nodes } = model.graph;
    this.starts = new Float64Array(nodes).fill(-1);
    this.#position = new Int32Array(nodes).fill(-1);
    plan.events.forEach(({ time, train, operation }, position) => {
      const first = model.firstNode[train];
      if (first === undefined) return;
      const node = first + operation;
      if (node >= (model.firstNode[train + 1] ?? nodes)) return;
      this.starts[node] = time;
      this.#position[node] = position;
    });
  }

  isPassed(node: number): boolean {
    return this.#position[node]! >= 0;
  }

  /** The answer to a question of order, as a literal; null where the trains do not meet. */
  orderOf({ literal, meetings }: OrderChoice): number | null {
    for (const [piecesA, piecesB] of meetings) {
      const a = piecesA.find(({ first }) => this.isPassed(first));
      const b = piecesB.find(({ first }) => this.isPassed(first));
      if (a === undefined || b === undefined) continue;
      return this.#position[a.first]! < this.#position[b.first]! ? literal : literal ^ 1;
    }
    return null;
  }

  /** Writes what the plan says into the wishes of a search: 1 or 0 by variable. */
  wish(wishes: Uint8Array): void {
    for (const order of this.model.orders) {
      const literal = this.orderOf(order);
      if (literal !== null) wishes[literal >> 1] = 1 - (literal & 1);
    }
    const { graph } = this.model;
    for (let node = 0; node < graph.nodes; node++)
      this.#wishLiteral(wishes, graph.presence[node]!, this.isPassed(node));
    for (const { node, ways, targets } of this.model.routes) {
      const way = this.wayFrom(node, targets);
      ways.forEach((literal, i) => this.#wishLiteral(wishes, literal, i === way));
    }
  }

  /** Which of the targets of a fork the plan goes to next; −1 when it does not come by. */
  wayFrom(node: number, targets: readonly number[]): number {
    if (!this.isPassed(node)) return -1;
    let way = -1;
    targets.forEach((target, i) => {
      if (!this.isPassed(target)) return;
      if (way < 0 || this.#position[target]! < this.#position[targets[way]!]!) way = i;
    });
    return way;
  }

  #wishLiteral(wishes: Uint8Array, literal: number, isTrue: boolean): void {
    wishes[literal >> 1] = isTrue === ((literal & 1) === 0) ? 1 : 0;
  }
}
