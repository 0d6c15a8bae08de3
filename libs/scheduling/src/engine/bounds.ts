import { AtomList, grown } from './atoms.js';

/** Reason of a bound that was decided, or that holds without any decision. */
export const NO_REASON = -1;

/** The bounds of all variables, the trail of their changes and the levels of decision on it. */
export class Bounds {
  /** Present bound by side. */
  readonly value: Float64Array;
  /** Bound by side that holds without any decision. */
  readonly root: Float64Array;
  /** Newest trail entry of a side, or −1. */
  readonly last: Int32Array;
  /** Atoms that can't all hold, after `raise` has returned false or a propagator has put them here. */
  readonly conflict = new AtomList();

  size = 0;
  sideOf = new Int32Array(1024);
  newValue = new Float64Array(1024);
  /** Entry of the same side before an entry, or −1. */
  previous = new Int32Array(1024);
  reasonOf = new Int32Array(1024);
  levelOf = new Int32Array(1024);

  level = 0;
  #levelStart: number[] = [0];

  /** @param lower @param upper bounds by variable */
  constructor(lower: readonly number[], upper: readonly number[]) {
    this.value = new Float64Array(2 * lower.length);
    lower.forEach((bound, v) => {
      this.value[2 * v] = bound;
      this.value[2 * v + 1] = -upper[v]!;
    });
    this.root = this.value.slice();
    this.last = new Int32Array(2 * lower.length).fill(-1);
  }

  holds(side: number, value: number): boolean {
    return this.value[side]! >= value;
  }

  isTrue(literal: number): boolean {
    return this.value[literal]! >= 1 - (literal & 1);
  }

  isFalse(literal: number): boolean {
    return this.value[literal ^ 1]! >= (literal & 1);
  }

  isOpen(literal: number): boolean {
    return !this.isTrue(literal) && !this.isFalse(literal);
  }

  /** Makes an atom hold. False when the variable's range has become empty; `conflict` then says why. */
  raise(side: number, value: number, reason: number): boolean {
    if (this.value[side]! >= value) return true;
    if (this.size === this.sideOf.length) this.#grow();
    const entry = this.size++;
    this.sideOf[entry] = side;
    this.newValue[entry] = value;
    this.previous[entry] = this.last[side]!;
    this.reasonOf[entry] = reason;
    this.levelOf[entry] = this.level;
    this.last[side] = entry;
    this.value[side] = value;
    if (value + this.value[side ^ 1]! <= 0) return true;
    this.conflict.clear();
    this.conflict.push(side, value);
    this.conflict.push(side ^ 1, 1 - value);
    return false;
  }

  makeTrue(literal: number, reason: number): boolean {
    return this.raise(literal, 1 - (literal & 1), reason);
  }

  /** Bound that a side had before an entry of the trail. */
  before(side: number, entry: number): number {
    let at = this.last[side]!;
    while (at >= entry) at = this.previous[at]!;
    return at < 0 ? this.root[side]! : this.newValue[at]!;
  }

  /** Oldest entry by which an atom holds, looked for from `from` downwards; −1 when it holds at the root. */
  entryOf(side: number, value: number, from: number): number {
    if (this.root[side]! >= value) return -1;
    let at = from;
    for (;;) {
      const earlier = this.previous[at]!;
      if (earlier < 0 || this.newValue[earlier]! < value) return at;
      at = earlier;
    }
  }

  /** Bound of an entry's side before the entry. */
  oldValue(entry: number): number {
    const earlier = this.previous[entry]!;
    return earlier < 0 ? this.root[this.sideOf[entry]!]! : this.newValue[earlier]!;
  }

  openLevel(): void {
    this.#levelStart[++this.level] = this.size;
  }

  /** Takes everything back that was raised above a level. */
  backTo(level: number, undone: (side: number) => void): void {
    if (level >= this.level) return;
    const start = this.#levelStart[level + 1]!;
    for (let entry = this.size - 1; entry >= start; entry--) {
      const side = this.sideOf[entry]!;
      this.value[side] = this.oldValue(entry);
      this.last[side] = this.previous[entry]!;
      undone(side);
    }
    this.size = start;
    this.level = level;
  }

  /** At level 0: what the trail holds is from now on known without a reason. */
  settle(): void {
    for (let entry = 0; entry < this.size; entry++) {
      const side = this.sideOf[entry]!;
      this.root[side] = this.value[side]!;
      this.last[side] = -1;
    }
    this.size = 0;
  }

  #grow(): void {
    const length = 2 * this.sideOf.length;
    this.sideOf = grown(this.sideOf, new Int32Array(length));
    this.newValue = grown(this.newValue, new Float64Array(length));
    this.previous = grown(this.previous, new Int32Array(length));
    this.reasonOf = grown(this.reasonOf, new Int32Array(length));
    this.levelOf = grown(this.levelOf, new Int32Array(length));
  }
}
