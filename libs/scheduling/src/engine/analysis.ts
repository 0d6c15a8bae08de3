import { AtomList } from './atoms.js';
import type { Bounds } from './bounds.js';

type Explain = (
  reason: number,
  entry: number,
  side: number,
  value: number,
  atoms: AtomList,
) => void;

/**
 * Learns from a conflict: goes back along the reasons until, of the newest level of decision, one atom is left that
 * by itself led there (first unique implication point). What the atoms say together is not so: that is the clause.
 */
export class Analysis {
  /** The clause: its first atom follows once its second is false; the second is the newest of the rest. */
  readonly learned = new AtomList();
  /** Level to which the second atom belongs; 0 for a clause of one atom. */
  level = 0;
  /** Number of levels in the clause. */
  span = 0;

  /** Strongest atom needed, by side. */
  readonly #needed: Float64Array;
  /** Trail entry by which it holds; −1 where none is needed. */
  readonly #entry: Int32Array;
  readonly #touched: number[] = [];
  readonly #reasons = new AtomList();
  #open = 0;

  constructor(
    private readonly bounds: Bounds,
    private readonly explain: Explain,
    private readonly useClause: (reason: number) => void,
    private readonly useVariable: (variable: number) => void,
  ) {
    this.#needed = new Float64Array(bounds.value.length).fill(-Infinity);
    this.#entry = new Int32Array(bounds.value.length).fill(-1);
  }

  /** Analyses `bounds.conflict`. False when it holds without any decision: there is no solution. */
  run(): boolean {
    const { bounds } = this;
    const { conflict } = bounds;
    this.#open = 0;
    const level = this.#newestLevel();
    if (level === 0) return false;
    for (let i = 0; i < conflict.size; i++)
      this.#need(conflict.sides[i]!, conflict.values[i]!, bounds.size, level);
    let entry = bounds.size;
    let side = conflict.sides[0]!;
    // A variable whose range has become empty: that its bounds contradict each other teaches nothing, the reason does.
    if (conflict.size === 2 && conflict.sides[1] === (side ^ 1) && bounds.last[side] === entry - 1)
      this.#resolve(--entry, side, level);
    for (;;) {
      do {
        entry--;
        side = bounds.sideOf[entry]!;
      } while (this.#entry[side] !== entry);
      if (this.#open === 1 && bounds.levelOf[entry] === level) break;
      this.#resolve(entry, side, level);
    }
    this.#collect(side);
    return true;
  }

  /** Level above which the conflict does not reach. */
  #newestLevel(): number {
    const { bounds } = this;
    const { conflict } = bounds;
    let newest = 0;
    for (let i = 0; i < conflict.size; i++) {
      const side = conflict.sides[i]!;
      const entry = bounds.entryOf(side, conflict.values[i]!, bounds.last[side]!);
      if (entry >= 0) newest = Math.max(newest, bounds.levelOf[entry]!);
    }
    return newest;
  }

  #need(side: number, value: number, before: number, level: number): void {
    const { bounds } = this;
    if (value <= bounds.root[side]! || value <= this.#needed[side]!) return;
    let from = bounds.last[side]!;
    while (from >= before) from = bounds.previous[from]!;
    const entry = bounds.entryOf(side, value, from);
    const old = this.#entry[side]!;
    if (old < 0) this.#touched.push(side);
    if (old >= 0 && bounds.levelOf[old] === level) this.#open--;
    if (bounds.levelOf[entry] === level) this.#open++;
    this.#needed[side] = value;
    this.#entry[side] = entry;
    this.useVariable(side >> 1);
  }

  #resolve(entry: number, side: number, level: number): void {
    const { bounds } = this;
    const value = this.#needed[side]!;
    this.#needed[side] = -Infinity;
    this.#entry[side] = -1;
    this.#open--;
    const reason = bounds.reasonOf[entry]!;
    this.useClause(reason);
    const reasons = this.#reasons;
    reasons.clear();
    this.explain(reason, entry, side, value, reasons);
    for (let i = 0; i < reasons.size; i++)
      this.#need(reasons.sides[i]!, reasons.values[i]!, entry, level);
  }

  /** Writes the clause down; `pivot` is the side of the atom that led to the conflict. */
  #collect(pivot: number): void {
    const { bounds, learned } = this;
    learned.clear();
    learned.push(pivot ^ 1, 1 - this.#needed[pivot]!);
    let newest = -1;
    const levels = new Set<number>();
    const seen = new Set<number>();
    for (const side of this.#touched) {
      const entry = this.#entry[side]!;
      if (entry < 0 || side === pivot || seen.has(side)) continue;
      seen.add(side);
      if (this.#follows(entry, side)) continue;
      learned.push(side ^ 1, 1 - this.#needed[side]!);
      levels.add(bounds.levelOf[entry]!);
      if (newest < 0 || entry > this.#entry[learned.sides[newest]! ^ 1]!) newest = learned.size - 1;
    }
    this.level = 0;
    if (newest > 0) {
      this.level = bounds.levelOf[this.#entry[learned.sides[newest]! ^ 1]!]!;
      swap(learned, 1, newest);
    }
    this.span = levels.size + 1;
    for (const side of this.#touched) {
      this.#needed[side] = -Infinity;
      this.#entry[side] = -1;
    }
    this.#touched.length = 0;
  }

  /** Whether an atom follows from the others of the clause, so that it need not be said. */
  #follows(entry: number, side: number): boolean {
    const reason = this.bounds.reasonOf[entry]!;
    if (reason < 0) return false;
    const reasons = this.#reasons;
    reasons.clear();
    this.explain(reason, entry, side, this.#needed[side]!, reasons);
    for (let i = 0; i < reasons.size; i++) {
      const other = reasons.sides[i]!;
      const value = reasons.values[i]!;
      if (value <= this.bounds.root[other]!) continue;
      // Only what came earlier counts: two atoms must not excuse each other.
      if (value > this.#needed[other]! || this.#entry[other]! >= entry) return false;
    }
    return true;
  }
}

function swap(atoms: AtomList, a: number, b: number): void {
  const side = atoms.sides[a]!;
  const value = atoms.values[a]!;
  atoms.sides[a] = atoms.sides[b]!;
  atoms.values[a] = atoms.values[b]!;
  atoms.sides[b] = side;
  atoms.values[b] = value;
}
