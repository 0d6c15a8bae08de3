import type { AtomList } from './atoms.js';
import type { Bounds } from './bounds.js';
import { COST } from './reasons.js';

/** What one node adds to the cost: `coeff · max(0, t − threshold) + increment · [t ≥ threshold]` if it is passed. */
export interface CostTerm {
  readonly node: number;
  readonly threshold: number;
  readonly coeff: number;
  readonly increment: number;
}

/** Keeps the variable of the whole cost and the times of the terms in step. */
export class Costs {
  readonly #thresholds: Float64Array;
  readonly #coeffs: Float64Array;
  readonly #increments: Float64Array;
  readonly #early: Int32Array;
  readonly #late: Int32Array;
  readonly #presence: Int32Array;
  readonly #count: number;
  /** 1 for sides a change of which can change the cost. */
  readonly #concerns: Uint8Array;
  #due = true;

  constructor(
    private readonly bounds: Bounds,
    terms: readonly CostTerm[],
    /** Variable of the whole cost. */
    private readonly total: number,
    nodes: { earlySide: Int32Array; lateSide: Int32Array; presence: Int32Array },
  ) {
    this.#count = terms.length;
    this.#thresholds = Float64Array.from(terms, (term) => term.threshold);
    this.#coeffs = Float64Array.from(terms, (term) => term.coeff);
    this.#increments = Float64Array.from(terms, (term) => term.increment);
    this.#early = Int32Array.from(terms, ({ node }) => nodes.earlySide[node]!);
    this.#late = Int32Array.from(terms, ({ node }) => nodes.lateSide[node]!);
    this.#presence = Int32Array.from(terms, ({ node }) => nodes.presence[node]!);
    this.#concerns = new Uint8Array(bounds.value.length);
    this.#concerns[2 * total + 1] = 1;
    for (const side of [...this.#early, ...this.#presence]) this.#concerns[side] = 1;
  }

  notice(side: number): void {
    if (this.#concerns[side] === 1) this.#due = true;
  }

  get due(): boolean {
    return this.#due;
  }

  propagate(): boolean {
    this.#due = false;
    const { bounds, total } = this;
    let least = 0;
    for (let term = 0; term < this.#count; term++) {
      if (bounds.isTrue(this.#presence[term]!))
        least += this.#cost(term, bounds.value[this.#early[term]!]!);
    }
    if (!bounds.raise(2 * total, least, COST)) return false;
    const left = -bounds.value[2 * total + 1]! - least;
    for (let term = 0; term < this.#count; term++) {
      const presence = this.#presence[term]!;
      if (bounds.isFalse(presence)) continue;
      const present = bounds.isTrue(presence);
      const own = this.#cost(term, bounds.value[this.#early[term]!]!);
      if (present) {
        const latest = this.#latestFor(term, left + own);
        if (
          latest < -bounds.value[this.#late[term]!]! &&
          !bounds.raise(this.#late[term]!, -latest, COST | (term << 3))
        )
          return false;
      } else if (own > left && !bounds.makeTrue(presence ^ 1, COST | (term << 3))) return false;
    }
    return true;
  }

  explain(reason: number, entry: number, side: number, value: number, atoms: AtomList): void {
    if (side === 2 * this.total) {
      this.#explainSum(value, -1, entry, atoms);
      return;
    }
    const term = reason >> 3;
    const { bounds } = this;
    const limitSide = 2 * this.total + 1;
    const limit = -bounds.before(limitSide, entry);
    let needed = limit + 1;
    if (side === this.#late[term]) {
      needed -= this.#cost(term, 1 - value);
      atoms.pushLiteral(this.#presence[term]!);
    } else {
      const early = bounds.before(this.#early[term]!, entry);
      const cost = this.#cost(term, early);
      needed -= cost;
      atoms.push(this.#early[term]!, this.#earliestFor(term, cost));
    }
    atoms.push(limitSide, -limit);
    this.#explainSum(needed, term, entry, atoms);
  }

  /** Bounds, before an entry, by which all terms but one cost at least `needed`; weaker ones where there is room. */
  #explainSum(needed: number, but: number, entry: number, atoms: AtomList): void {
    const { bounds } = this;
    let spare = -needed;
    for (let term = 0; term < this.#count; term++) {
      if (term !== but) spare += this.#costBefore(term, entry);
    }
    for (let term = 0; term < this.#count; term++) {
      if (term === but) continue;
      const cost = this.#costBefore(term, entry);
      if (cost === 0) continue;
      const presence = this.#presence[term]!;
      const early = this.#early[term]!;
      const certain = bounds.root[presence]! >= 1 - (presence & 1);
      const base = certain ? this.#cost(term, bounds.root[early]!) : 0;
      if (cost - base <= spare) {
        spare -= cost - base;
        continue;
      }
      const time = this.#earliestFor(term, cost - spare);
      spare -= cost - this.#cost(term, time);
      atoms.pushLiteral(presence);
      atoms.push(early, time);
    }
  }

  #costBefore(term: number, entry: number): number {
    const { bounds } = this;
    const presence = this.#presence[term]!;
    if (bounds.before(presence, entry) < 1 - (presence & 1)) return 0;
    return this.#cost(term, bounds.before(this.#early[term]!, entry));
  }

  #cost(term: number, time: number): number {
    const late = time - this.#thresholds[term]!;
    return late < 0 ? 0 : this.#coeffs[term]! * late + this.#increments[term]!;
  }

  /** Latest time at which a term costs no more than `most`, which is not negative. */
  #latestFor(term: number, most: number): number {
    if (this.#increments[term]! > most) return this.#thresholds[term]! - 1;
    if (this.#coeffs[term] === 0) return Infinity;
    return (
      this.#thresholds[term]! + Math.floor((most - this.#increments[term]!) / this.#coeffs[term]!)
    );
  }

  /** Earliest time at which a term costs `least` or more, which is more than 0 and can happen. */
  #earliestFor(term: number, least: number): number {
    if (least <= 0) return -Infinity;
    if (this.#increments[term]! >= least) return this.#thresholds[term]!;
    return (
      this.#thresholds[term]! + Math.ceil((least - this.#increments[term]!) / this.#coeffs[term]!)
    );
  }
}
