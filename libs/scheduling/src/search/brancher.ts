import { WAY } from '../engine/event-graph.js';
import type { Engine } from '../engine/engine.js';
import type { Model, OrderChoice, PieceNodes } from '../model/model.js';

/** Chooses what to decide next. */
export class Brancher {
  /** Wanted value by variable, 0 or 1; 2 where there is no wish. */
  readonly wish: Uint8Array;

  /** Ways on from each node, and the nodes they lead to. */
  readonly #endStarts: Int32Array;
  readonly #ways: Int32Array;
  readonly #targets: Int32Array;
  readonly #togo: Float64Array;
  /** Literals of the questions of order, and the pairs of pieces each of them is about: their last nodes, and the sides of the times of their first. */
  readonly #literals: Int32Array;
  readonly #pairStarts: Int32Array;
  readonly #pairs: Int32Array;
  readonly #pairSides: Int32Array;
  readonly #orders: ReadonlyMap<number, OrderChoice>;
  /** 1 for sides a change of which may put trains in each other's way: earliest times, and which way trains take. */
  readonly #stirs: Uint8Array;
  /** Size of the trail, and returns of the engine, when no train was in another's way. */
  #calmSize = 0;
  #calmReturns = -1;

  constructor(
    private readonly model: Model,
    private readonly engine: Engine,
  ) {
    this.wish = new Uint8Array(model.lower.length).fill(2);
    const { graph } = model;
    this.#togo = new Float64Array(graph.nodes);
    this.#endStarts = new Int32Array(graph.nodes + 1);
    for (let edge = 0; edge < graph.edges; edge++)
      if (graph.kind[edge] === WAY) this.#endStarts[graph.from[edge]! + 1]!++;
    for (let node = 0; node < graph.nodes; node++)
      this.#endStarts[node + 1]! += this.#endStarts[node]!;
    this.#ways = new Int32Array(this.#endStarts[graph.nodes]!);
    this.#targets = new Int32Array(this.#ways.length);
    const dwell = new Float64Array(graph.nodes);
    const next = this.#endStarts.slice();
    for (let edge = 0; edge < graph.edges; edge++) {
      if (graph.kind[edge] !== WAY) continue;
      const from = graph.from[edge]!;
      dwell[from] = graph.weight[edge]!;
      this.#ways[next[from]!] = graph.conditions[3 * edge]!;
      this.#targets[next[from]!++] = graph.to[edge]!;
    }
    for (let node = graph.nodes - 1; node >= 0; node--) {
      let least = Infinity;
      for (let at = this.#endStarts[node]!; at < this.#endStarts[node + 1]!; at++)
        least = Math.min(least, this.#togo[this.#targets[at]!]!);
      this.#togo[node] = least === Infinity ? 0 : dwell[node]! + least;
    }
    // The train that sets out first goes first everywhere: nobody meets head-on that way.
    for (const { literal, trains } of model.orders) {
      const [setsOutA, setsOutB] = trains.map((train) =>
        engine.times.earliest(model.firstNode[train]!),
      ) as [number, number];
      engine.phase[literal >> 1] = setsOutA <= setsOutB ? 1 : 0;
    }
    this.#orders = new Map(model.orders.map((order) => [order.literal >> 1, order]));
    this.#stirs = new Uint8Array(2 * model.lower.length).fill(1);
    for (const side of engine.times.lateSide) this.#stirs[side] = 0;
    for (const { literal } of model.orders) {
      this.#stirs[literal] = 0;
      this.#stirs[literal ^ 1] = 0;
    }
    this.#literals = Int32Array.from(model.orders, ({ literal }) => literal);
    const pairs: number[] = [];
    const sides: number[] = [];
    const { earlySide } = engine.times;
    this.#pairStarts = new Int32Array(model.orders.length + 1);
    model.orders.forEach(({ meetings }, i) => {
      for (const [piecesA, piecesB] of meetings)
        for (const a of piecesA)
          for (const b of piecesB) {
            sides.push(earlySide[a.first]!, earlySide[b.first]!);
            pairs.push(a.last, b.last);
          }
      this.#pairStarts[i + 1] = pairs.length;
    });
    this.#pairs = new Int32Array(pairs);
    this.#pairSides = new Int32Array(sides);
  }

  /** The most active open variable, as wished or as it was last; −1 when no open one has taken part in a conflict. */
  byActivity(): number {
    const { engine, wish } = this;
    for (;;) {
      const variable = engine.activity.takeActive();
      if (variable < 0) return -1;
      if (!engine.bounds.isOpen(2 * variable)) continue;
      const value = wish[variable]! < 2 ? wish[variable]! : engine.phase[variable]!;
      return 2 * variable + 1 - value;
    }
  }

  /**
   * The question that comes first in time: a train at a fork, or two trains that would hold a resource at once.
   * −1 when no train is in another's way any more.
   */
  byTime(): number {
    if (this.#isCalm()) return -1;
    const { bounds, times } = this.engine;
    let first = Infinity;
    let chosen = -1;
    for (const { node, ways } of this.model.routes) {
      if (!bounds.isTrue(times.presence[node]!)) continue;
      const time = times.earliest(node);
      if (time >= first || ways.some((way) => bounds.isTrue(way))) continue;
      first = time;
      chosen = this.#way(node);
    }
    const { value } = bounds;
    const { presence } = times;
    const [literals, pairStarts, pairs, sides] = [
      this.#literals,
      this.#pairStarts,
      this.#pairs,
      this.#pairSides,
    ];
    for (let i = 0; i < literals.length; i++) {
      const literal = literals[i]!;
      if (value[literal]! >= 1 || value[literal ^ 1]! >= 0) continue;
      const end = pairStarts[i + 1]!;
      for (let at = pairStarts[i]!; at < end; at += 2) {
        const startA = value[sides[at]!]!;
        if (startA >= first) continue;
        const startB = value[sides[at + 1]!]!;
        if (startB >= first) continue;
        const a = pairs[at]!;
        const b = pairs[at + 1]!;
        if (!bounds.isTrue(presence[a]!) || !bounds.isTrue(presence[b]!)) continue;
        const endA = this.#end(a);
        const endB = this.#end(b);
        if (endA < startB || endB < startA) continue;
        first = Math.max(startA, startB);
        const wished = this.wish[literal >> 1]!;
        const firstGoes =
          wished < 2 ? wished === 1 : startA < startB || (startA === startB && endA <= endB);
        chosen = firstGoes ? literal : literal ^ 1;
      }
    }
    if (chosen < 0) {
      this.#calmSize = bounds.size;
      this.#calmReturns = this.engine.returns;
    }
    return chosen;
  }

  /** Whether no train was in another's way at the last look and nothing has happened since that could change it. */
  #isCalm(): boolean {
    const { bounds, returns } = this.engine;
    if (this.#calmReturns !== returns) return false;
    for (; this.#calmSize < bounds.size; this.#calmSize++)
      if (this.#stirs[bounds.sideOf[this.#calmSize]!] === 1) return false;
    return true;
  }

  /** For an order no one is in the way of any more: who comes first anyway. */
  asItStands(): number {
    const { engine } = this;
    const { bounds, times } = engine;
    for (;;) {
      const variable = engine.activity.take();
      if (variable < 0) return -1;
      if (!bounds.isOpen(2 * variable)) continue;
      const order = this.#orders.get(variable);
      if (order === undefined) return 2 * variable + 1;
      for (const [piecesA, piecesB] of order.meetings) {
        const a = this.#present(piecesA);
        const b = this.#present(piecesB);
        if (a < 0 || b < 0) continue;
        const sooner =
          times.earliest(a) - times.earliest(b) || times.order.place[a]! - times.order.place[b]!;
        return sooner < 0 ? order.literal : order.literal ^ 1;
      }
      return order.literal;
    }
  }

  /** First node of the first piece that the train surely comes by; −1: none. */
  #present(pieces: readonly PieceNodes[]): number {
    const { bounds, times } = this.engine;
    return pieces.find(({ first }) => bounds.isTrue(times.presence[first]!))?.first ?? -1;
  }

  /** Earliest end of a node's operation. */
  #end(node: number): number {
    const { bounds, times } = this.engine;
    let soonest = Infinity;
    for (let at = this.#endStarts[node]!; at < this.#endStarts[node + 1]!; at++) {
      if (bounds.isFalse(this.#ways[at]!)) continue;
      const time = times.earliest(this.#targets[at]!);
      if (time < soonest) soonest = time;
    }
    return soonest;
  }

  #way(node: number): number {
    const { bounds, times } = this.engine;
    let best = -1;
    let bestTime = Infinity;
    for (let at = this.#endStarts[node]!; at < this.#endStarts[node + 1]!; at++) {
      const way = this.#ways[at]!;
      const target = this.#targets[at]!;
      if (bounds.isFalse(way)) continue;
      if (this.wish[way >> 1] === 1) return way;
      const time = times.earliest(target) + this.#togo[target]!;
      if (time < bestTime) {
        best = way;
        bestTime = time;
      }
    }
    return best;
  }
}
