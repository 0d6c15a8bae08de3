import type { AtomList } from './atoms.js';
import { grown } from './atoms.js';

/**
 * The order of events in the list, kept up while edges come into force: each event has a place, and every edge in
 * force leads to a later place. An edge that would close a circle is refused: trains would wait for one another, or
 * change places at one moment, which no list of events can say.
 *
 * Dynamic topological order after Pearce and Kelly (2006).
 */
export class ListOrder {
  /** Place of each node. */
  readonly place: Int32Array;
  #stack = new Int32Array(256);
  #size = 0;
  readonly #levelSize: number[] = [0];
  readonly #firstOut: Int32Array;
  readonly #firstIn: Int32Array;
  readonly #nextOut: Int32Array;
  readonly #nextIn: Int32Array;
  readonly #inForce: Uint8Array;
  readonly #mark: Int32Array;
  readonly #cameBy: Int32Array;
  #marks = 0;
  readonly #ahead: number[] = [];
  readonly #behind: number[] = [];

  constructor(
    nodes: number,
    private readonly from: Int32Array,
    private readonly to: Int32Array,
    private readonly conditions: Int32Array,
  ) {
    this.place = new Int32Array(nodes);
    for (let node = 0; node < nodes; node++) this.place[node] = node;
    this.#firstOut = new Int32Array(nodes).fill(-1);
    this.#firstIn = new Int32Array(nodes).fill(-1);
    this.#nextOut = new Int32Array(from.length);
    this.#nextIn = new Int32Array(from.length);
    this.#inForce = new Uint8Array(from.length);
    this.#mark = new Int32Array(nodes);
    this.#cameBy = new Int32Array(nodes);
  }

  openLevel(level: number): void {
    this.#levelSize[level] = this.#size;
  }

  /** Takes back the edges that came into force above a level. */
  backTo(level: number): void {
    const size = this.#levelSize[level + 1]!;
    while (this.#size > size) {
      const edge = this.#stack[--this.#size]!;
      this.#firstOut[this.from[edge]!] = this.#nextOut[edge]!;
      this.#firstIn[this.to[edge]!] = this.#nextIn[edge]!;
      this.#inForce[edge] = 0;
    }
  }

  /** Puts an edge in force; false when that closes a circle, with the literals of its edges in `conflict`. */
  add(edge: number, conflict: AtomList): boolean {
    if (this.#inForce[edge] === 1) return true;
    const from = this.from[edge]!;
    const to = this.to[edge]!;
    if (this.place[from]! >= this.place[to]! && !this.#reorder(from, to)) {
      conflict.clear();
      this.#explain(edge, conflict);
      for (let node = from; node !== to; node = this.from[this.#cameBy[node]!]!)
        this.#explain(this.#cameBy[node]!, conflict);
      return false;
    }
    if (this.#size === this.#stack.length)
      this.#stack = grown(this.#stack, new Int32Array(2 * this.#size));
    this.#stack[this.#size++] = edge;
    this.#nextOut[edge] = this.#firstOut[from]!;
    this.#firstOut[from] = edge;
    this.#nextIn[edge] = this.#firstIn[to]!;
    this.#firstIn[to] = edge;
    this.#inForce[edge] = 1;
    return true;
  }

  #explain(edge: number, conflict: AtomList): void {
    for (let i = 3 * edge; i < 3 * edge + 3; i++) conflict.pushLiteral(this.conditions[i]!);
  }

  /** Moves `to` and what follows it behind `from`; false when `from` itself follows `to`. */
  #reorder(from: number, to: number): boolean {
    if (from === to) return false;
    const { place } = this;
    const ahead = this.#ahead;
    const behind = this.#behind;
    const last = place[from]!;
    const first = place[to]!;
    let mark = ++this.#marks;
    ahead.length = 0;
    ahead.push(to);
    this.#mark[to] = mark;
    for (let i = 0; i < ahead.length; i++) {
      for (let e = this.#firstOut[ahead[i]!]!; e >= 0; e = this.#nextOut[e]!) {
        const node = this.to[e]!;
        if (this.#mark[node] === mark || place[node]! > last) continue;
        this.#mark[node] = mark;
        this.#cameBy[node] = e;
        if (node === from) return false;
        ahead.push(node);
      }
    }
    mark = ++this.#marks;
    behind.length = 0;
    behind.push(from);
    this.#mark[from] = mark;
    for (let i = 0; i < behind.length; i++) {
      for (let e = this.#firstIn[behind[i]!]!; e >= 0; e = this.#nextIn[e]!) {
        const node = this.from[e]!;
        if (this.#mark[node] === mark || place[node]! < first) continue;
        this.#mark[node] = mark;
        behind.push(node);
      }
    }
    const byPlace = (a: number, b: number): number => place[a]! - place[b]!;
    behind.sort(byPlace);
    ahead.sort(byPlace);
    const moved = [...behind, ...ahead];
    const places = moved.map((node) => place[node]!).sort((a, b) => a - b);
    moved.forEach((node, i) => {
      place[node] = places[i]!;
    });
    return true;
  }
}
