import { grown } from './atoms.js';

/** The literal that is always true: variable 0 is fixed at 1. */
export const ALWAYS = 0;

/** What an edge is beside a dependency: nothing more; one along which a train may run; one of the several by which a node is come to. */
export const PLAIN = 0;
export const WAY = 1;
export const ARRIVAL = 2;

/**
 * Events and the ways in which they can depend on each other. A node is the start of an operation (or the end of
 * everything). It has a time that counts if the train comes by. An optional node has two time variables: `early`,
 * which may go to infinity, and `late`, which may go below everything, when the train does not come by; they are one
 * when it does. So bounds can be followed through parts of a route that is not chosen yet.
 */
export class EventGraph {
  /** Variables by node; equal for nodes every path passes. */
  readonly early: number[] = [];
  readonly late: number[] = [];
  /** Literal by node: the train comes by. */
  readonly presence: number[] = [];

  /** Edges: `to` is at least `weight` after `from`, and stands after it in the list of events, if three literals hold. */
  from = new Int32Array(4096);
  to = new Int32Array(4096);
  weight = new Float64Array(4096);
  /** Three literals an edge. */
  conditions = new Int32Array(3 * 4096);
  /**
   * `PLAIN`, `WAY` or `ARRIVAL`. Ways into a node, and out of a node, are all there are; so are arrivals at one, to which no way leads.
   */
  kind = new Int32Array(4096);
  edges = 0;

  addNode(early: number, late: number, presence: number): number {
    this.early.push(early);
    this.late.push(late);
    this.presence.push(presence);
    return this.early.length - 1;
  }

  addEdge(
    from: number,
    to: number,
    weight: number,
    kind: number,
    condition: number,
    second = ALWAYS,
    third = ALWAYS,
  ): void {
    if (this.edges === this.from.length) this.#grow();
    const edge = this.edges++;
    this.from[edge] = from;
    this.to[edge] = to;
    this.weight[edge] = weight;
    this.conditions[3 * edge] = condition;
    this.conditions[3 * edge + 1] = second;
    this.conditions[3 * edge + 2] = third;
    this.kind[edge] = kind;
  }

  get nodes(): number {
    return this.early.length;
  }

  #grow(): void {
    const length = 2 * this.edges;
    this.from = grown(this.from, new Int32Array(length));
    this.to = grown(this.to, new Int32Array(length));
    this.weight = grown(this.weight, new Float64Array(length));
    this.conditions = grown(this.conditions, new Int32Array(3 * length));
    this.kind = grown(this.kind, new Int32Array(length));
  }
}

/** Lists of numbers by key, packed into two arrays. */
export class Grouped {
  readonly starts: Int32Array;
  readonly items: Int32Array;

  /** @param keys the keys of each item, `width` of them an item; twice the same key counts once, and `but` not at all */
  constructor(count: number, keys: Int32Array, width: number, but = -1) {
    this.starts = new Int32Array(count + 1);
    for (let i = 0; i < keys.length; i++) {
      if (keys[i] !== but && isFirst(keys, i, width)) this.starts[keys[i]! + 1]!++;
    }
    for (let key = 0; key < count; key++) this.starts[key + 1]! += this.starts[key]!;
    this.items = new Int32Array(this.starts[count]!);
    const next = this.starts.slice();
    for (let i = 0; i < keys.length; i++) {
      if (keys[i] !== but && isFirst(keys, i, width))
        this.items[next[keys[i]!]!++] = Math.floor(i / width);
    }
  }
}

function isFirst(keys: Int32Array, at: number, width: number): boolean {
  for (let i = at - (at % width); i < at; i++) {
    if (keys[i] === keys[at]) return false;
  }
  return true;
}
