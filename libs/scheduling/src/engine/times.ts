import type { AtomList } from './atoms.js';
import type { Bounds } from './bounds.js';
import { ALWAYS, Grouped, PLAIN, WAY, type EventGraph } from './event-graph.js';
import { ListOrder } from './list-order.js';
import { EDGE_BACKWARD, EDGE_FORWARD, EDGE_OFF, NODE, PRESENCE } from './reasons.js';

/** Follows times along the edges of the event graph, and literals to the edges they put in force. */
export class Times {
  readonly order: ListOrder;
  /** Sides by node: lower bound of `early`, upper bound of `late`. */
  readonly earlySide: Int32Array;
  readonly lateSide: Int32Array;
  readonly presence: Int32Array;
  /** Visits of edges so far. */
  visits = 0;

  readonly #from: Int32Array;
  readonly #to: Int32Array;
  readonly #weight: Float64Array;
  readonly #conditions: Int32Array;
  readonly #kind: Int32Array;
  readonly #out: Grouped;
  readonly #in: Grouped;
  /** By place in `out` and `in`: the side that follows at the other end, and by how much. One after another, as they are read. */
  readonly #outSide: Int32Array;
  readonly #outWeight: Float64Array;
  readonly #inSide: Int32Array;
  readonly #inWeight: Float64Array;
  readonly #edgesByLiteral: Grouped;
  readonly #nodesByPresence: Grouped;
  /** Node of a time variable, or −1. */
  readonly #nodeOf: Int32Array;
  /** 1 when a node has two time variables. */
  readonly #optional: Uint8Array;

  constructor(
    readonly bounds: Bounds,
    graph: EventGraph,
  ) {
    const sides = bounds.value.length;
    this.#from = graph.from.slice(0, graph.edges);
    this.#to = graph.to.slice(0, graph.edges);
    this.#weight = graph.weight.slice(0, graph.edges);
    this.#conditions = graph.conditions.slice(0, 3 * graph.edges);
    this.#kind = graph.kind.slice(0, graph.edges);
    const { nodes, edges } = graph;
    this.presence = new Int32Array(graph.presence);
    this.earlySide = new Int32Array(nodes);
    this.lateSide = new Int32Array(nodes);
    this.#optional = new Uint8Array(nodes);
    this.#nodeOf = new Int32Array(sides / 2).fill(-1);
    for (let node = 0; node < nodes; node++) {
      const [early, late] = [graph.early[node]!, graph.late[node]!];
      this.earlySide[node] = 2 * early;
      this.lateSide[node] = 2 * late + 1;
      this.#optional[node] = early === late ? 0 : 1;
      this.#nodeOf[early] = node;
      this.#nodeOf[late] = node;
    }
    this.#out = new Grouped(nodes, this.#from, 1);
    this.#in = new Grouped(nodes, this.#to, 1);
    this.#outSide = new Int32Array(edges);
    this.#outWeight = new Float64Array(edges);
    this.#inSide = new Int32Array(edges);
    this.#inWeight = new Float64Array(edges);
    for (let i = 0; i < edges; i++) {
      const [going, coming] = [this.#out.items[i]!, this.#in.items[i]!];
      this.#outSide[i] = this.earlySide[this.#to[going]!]!;
      this.#outWeight[i] = this.#weight[going]!;
      this.#inSide[i] = this.lateSide[this.#from[coming]!]!;
      this.#inWeight[i] = this.#weight[coming]!;
    }
    this.#edgesByLiteral = new Grouped(sides, this.#conditions, 3, ALWAYS);
    this.#nodesByPresence = new Grouped(sides, this.presence, 1);
    this.order = new ListOrder(graph.nodes, this.#from, this.#to, this.#conditions);
  }

  /** Node whose time a side bounds, or −1. */
  nodeOf(side: number): number {
    return this.#nodeOf[side >> 1]!;
  }

  earliest(node: number): number {
    return this.bounds.value[this.earlySide[node]!]!;
  }

  latest(node: number): number {
    return -this.bounds.value[this.lateSide[node]!]!;
  }

  /** Once, at level 0: everything that holds from the beginning. */
  begin(): boolean {
    for (let edge = 0; edge < this.#from.length; edge++) {
      if (this.#allTrue(edge) && !this.order.add(edge, this.bounds.conflict)) return false;
    }
    // Along the trains' ways, and then back: so most of it is done once.
    const nodes = this.earlySide.length;
    for (let node = 0; node < nodes; node++)
      if (!this.#arrive(node) || !this.#forward(node)) return false;
    for (let node = nodes - 1; node >= 0; node--)
      if (!this.#depart(node) || !this.#backward(node)) return false;
    return true;
  }

  /** A literal has become true: edges come into force, nodes become certain, ways fall away. */
  followLiteral(literal: number): boolean {
    const { starts, items } = this.#edgesByLiteral;
    for (let i = starts[literal]!; i < starts[literal + 1]!; i++) {
      const edge = items[i]!;
      this.visits++;
      if (this.#allTrue(edge) && !this.order.add(edge, this.bounds.conflict)) return false;
      if (!this.#push(edge)) return false;
    }
    const off = literal ^ 1;
    for (let i = starts[off]!; i < starts[off + 1]!; i++) {
      const edge = items[i]!;
      if (this.#kind[edge] === PLAIN) continue;
      if (!this.#arrive(this.#to[edge]!) || !this.#depart(this.#from[edge]!)) return false;
    }
    const nodes = this.#nodesByPresence;
    for (let i = nodes.starts[literal]!; i < nodes.starts[literal + 1]!; i++) {
      if (!this.#unite(nodes.items[i]!)) return false;
    }
    return true;
  }

  /** A bound of a time has become stricter. */
  followTime(side: number): boolean {
    const node = this.#nodeOf[side >> 1]!;
    if (this.#optional[node] === 1 && !this.#unite(node)) return false;
    if (side === this.earlySide[node]) return this.#forward(node);
    if (side === this.lateSide[node]) return this.#backward(node);
    return true;
  }

  /** Adds to `atoms` why the atom (side, value) followed, at an entry of the trail. */
  explain(reason: number, entry: number, side: number, value: number, atoms: AtomList): void {
    const id = reason >> 3;
    switch (reason & 7) {
      case EDGE_FORWARD:
        this.#explainConditions(id, -1, atoms);
        atoms.push(this.earlySide[this.#from[id]!]!, value - this.#weight[id]!);
        break;
      case EDGE_BACKWARD:
        this.#explainConditions(id, -1, atoms);
        atoms.push(this.lateSide[this.#to[id]!]!, value - this.#weight[id]!);
        break;
      case EDGE_OFF: {
        this.#explainConditions(id, side ^ 1, atoms);
        const late = this.lateSide[this.#to[id]!]!;
        this.#explainGap(this.earlySide[this.#from[id]!]!, late, this.#weight[id]!, entry, atoms);
        break;
      }
      case NODE:
        this.#explainNode(id, entry, side, value, atoms);
        break;
      default: {
        if (side === (this.presence[id]! ^ 1)) {
          this.#explainGap(this.earlySide[id]!, this.lateSide[id]!, 0, entry, atoms);
          break;
        }
        atoms.pushLiteral(this.presence[id]!);
        const parity = side & 1;
        const early = (this.earlySide[id]! & ~1) | parity;
        const late = (this.lateSide[id]! & ~1) | parity;
        atoms.push(side === early ? late : early, value);
      }
    }
  }

  #allTrue(edge: number): boolean {
    const { bounds } = this;
    const c = 3 * edge;
    return (
      bounds.isTrue(this.#conditions[c]!) &&
      bounds.isTrue(this.#conditions[c + 1]!) &&
      bounds.isTrue(this.#conditions[c + 2]!)
    );
  }

  /** Condition of an edge that alone is open; −1 when all are true, −2 when the edge is not to be looked at. */
  #openCondition(edge: number): number {
    const { value } = this.bounds;
    const conditions = this.#conditions;
    let open = -1;
    for (let i = 3 * edge; i < 3 * edge + 3; i++) {
      const literal = conditions[i]!;
      // True; or false; or open.
      if (value[literal]! >= 1 - (literal & 1) || literal === open) continue;
      if (open !== -1 || value[literal ^ 1]! >= (literal & 1)) return -2;
      open = literal;
    }
    return open;
  }

  #push(edge: number): boolean {
    const open = this.#openCondition(edge);
    if (open === -2) return true;
    const from = this.#from[edge]!;
    const to = this.#to[edge]!;
    const weight = this.#weight[edge]!;
    if (open >= 0) {
      if (this.earliest(from) + weight <= this.latest(to)) return true;
      return this.bounds.makeTrue(open ^ 1, EDGE_OFF | (edge << 3));
    }
    return (
      this.bounds.raise(
        this.earlySide[to]!,
        this.earliest(from) + weight,
        EDGE_FORWARD | (edge << 3),
      ) &&
      this.bounds.raise(this.lateSide[from]!, weight - this.latest(to), EDGE_BACKWARD | (edge << 3))
    );
  }

  #forward(node: number): boolean {
    const { starts, items } = this.#out;
    const [sides, weights] = [this.#outSide, this.#outWeight];
    const { bounds } = this;
    const { value } = bounds;
    const early = value[this.earlySide[node]!]!;
    const end = starts[node + 1]!;
    for (let i = starts[node]!; i < end; i++) {
      this.visits++;
      const side = sides[i]!;
      const time = early + weights[i]!;
      // Nothing follows then, whatever the conditions: it is no earlier there anyway.
      if (time <= value[side]!) continue;
      const edge = items[i]!;
      const open = this.#openCondition(edge);
      if (open === -1) {
        if (!bounds.raise(side, time, EDGE_FORWARD | (edge << 3))) return false;
        continue;
      }
      const to = this.#to[edge]!;
      if (open >= 0 && time > -value[this.lateSide[to]!]!) {
        if (!bounds.makeTrue(open ^ 1, EDGE_OFF | (edge << 3))) return false;
      }
      if (this.#kind[edge] !== PLAIN && !this.#arrive(to)) return false;
    }
    return true;
  }

  #backward(node: number): boolean {
    const { starts, items } = this.#in;
    const [sides, weights] = [this.#inSide, this.#inWeight];
    const { bounds } = this;
    const { value } = bounds;
    const late = value[this.lateSide[node]!]!;
    const end = starts[node + 1]!;
    for (let i = starts[node]!; i < end; i++) {
      this.visits++;
      const side = sides[i]!;
      const time = late + weights[i]!;
      // Nothing follows then, whatever the conditions: it is no later there anyway.
      if (time <= value[side]!) continue;
      const edge = items[i]!;
      const open = this.#openCondition(edge);
      if (open === -1) {
        if (!bounds.raise(side, time, EDGE_BACKWARD | (edge << 3))) return false;
        continue;
      }
      const from = this.#from[edge]!;
      if (open >= 0 && value[this.earlySide[from]!]! > -time) {
        if (!bounds.makeTrue(open ^ 1, EDGE_OFF | (edge << 3))) return false;
      }
      if (this.#kind[edge] === WAY && !this.#depart(from)) return false;
    }
    return true;
  }

  /** Nobody is at a node before the first of the ways to it that are still open. */
  #arrive(node: number): boolean {
    const { starts, items } = this.#in;
    const { bounds } = this;
    let first = Infinity;
    for (let i = starts[node]!; i < starts[node + 1]!; i++) {
      const edge = items[i]!;
      if (this.#kind[edge] === PLAIN || bounds.isFalse(this.#conditions[3 * edge]!)) continue;
      const time = this.earliest(this.#from[edge]!) + this.#weight[edge]!;
      if (time < first) first = time;
    }
    return first === Infinity || bounds.raise(this.earlySide[node]!, first, NODE | (node << 3));
  }

  /** Nobody leaves a node after the last of the ways from it that are still open. */
  #depart(node: number): boolean {
    const { starts, items } = this.#out;
    const { bounds } = this;
    let last = -Infinity;
    for (let i = starts[node]!; i < starts[node + 1]!; i++) {
      const edge = items[i]!;
      if (this.#kind[edge] !== WAY || bounds.isFalse(this.#conditions[3 * edge]!)) continue;
      const time = this.latest(this.#to[edge]!) - this.#weight[edge]!;
      if (time > last) last = time;
    }
    return last === -Infinity || bounds.raise(this.lateSide[node]!, -last, NODE | (node << 3));
  }

  /** An optional node's two variables are one if the train comes by, and it does not if they can't be. */
  #unite(node: number): boolean {
    if (this.#optional[node] === 0) return true;
    const { bounds } = this;
    const presence = this.presence[node]!;
    const early = this.earlySide[node]!;
    const late = this.lateSide[node]!;
    const reason = PRESENCE | (node << 3);
    if (bounds.isTrue(presence)) {
      return (
        bounds.raise(late ^ 1, bounds.value[early]!, reason) &&
        bounds.raise(early, bounds.value[late ^ 1]!, reason) &&
        bounds.raise(early ^ 1, bounds.value[late]!, reason) &&
        bounds.raise(late, bounds.value[early ^ 1]!, reason)
      );
    }
    if (bounds.isFalse(presence) || bounds.value[early]! + bounds.value[late]! <= 0) return true;
    return bounds.makeTrue(presence ^ 1, reason);
  }

  #explainConditions(edge: number, but: number, atoms: AtomList): void {
    for (let i = 3 * edge; i < 3 * edge + 3; i++) {
      if (this.#conditions[i] !== but) atoms.pushLiteral(this.#conditions[i]!);
    }
  }

  /** Two bounds, before an entry, between which less than `weight` is left. */
  #explainGap(early: number, late: number, weight: number, entry: number, atoms: AtomList): void {
    const { bounds } = this;
    // [from ≥ m] and [to ≤ m + weight − 1], with m as small as the later bound allows; what holds without a decision first.
    let latest = -bounds.before(late, entry);
    if (bounds.before(early, entry) + weight > -bounds.root[late]!) latest = -bounds.root[late]!;
    const m = Math.max(latest - weight + 1, bounds.root[early]!);
    atoms.push(early, m);
    atoms.push(late, 1 - m - weight);
  }

  #explainNode(node: number, entry: number, side: number, value: number, atoms: AtomList): void {
    const { bounds } = this;
    const arriving = side === this.earlySide[node];
    const { starts, items } = arriving ? this.#in : this.#out;
    for (let i = starts[node]!; i < starts[node + 1]!; i++) {
      const edge = items[i]!;
      if (this.#kind[edge] === PLAIN || (!arriving && this.#kind[edge] !== WAY)) continue;
      const other = arriving ? this.earlySide[this.#from[edge]!]! : this.lateSide[this.#to[edge]!]!;
      const needed = value - this.#weight[edge]!;
      const off = this.#conditions[3 * edge]! ^ 1;
      if (bounds.root[other]! >= needed) continue;
      if (bounds.before(off, entry) >= 1 - (off & 1)) atoms.pushLiteral(off);
      else atoms.push(other, needed);
    }
  }
}
