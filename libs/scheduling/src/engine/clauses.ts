import { grown } from './atoms.js';
import type { Bounds } from './bounds.js';
import { CLAUSE } from './reasons.js';

/** Clauses that watch one side: threshold at which the watched atom is false, clause, and an atom that may satisfy it. */
class WatchList {
  size = 0;
  thresholds = new Float64Array(4);
  clauses = new Int32Array(4);
  otherSides = new Int32Array(4);
  otherValues = new Float64Array(4);

  push(threshold: number, clause: number, otherSide: number, otherValue: number): void {
    if (this.size === this.clauses.length) {
      const length = 2 * this.size;
      this.thresholds = grown(this.thresholds, new Float64Array(length));
      this.clauses = grown(this.clauses, new Int32Array(length));
      this.otherSides = grown(this.otherSides, new Int32Array(length));
      this.otherValues = grown(this.otherValues, new Float64Array(length));
    }
    const at = this.size++;
    this.thresholds[at] = threshold;
    this.clauses[at] = clause;
    this.otherSides[at] = otherSide;
    this.otherValues[at] = otherValue;
  }
}

/** All clauses, those of the model and those learned, each with two watched atoms (its first two). */
export class Clauses {
  sides = new Int32Array(4096);
  values = new Float64Array(4096);
  /** Where a clause's atoms begin, and past the last clause where free space begins. */
  starts: number[] = [0];
  /** Number of decision levels a learned clause spanned; 0 for clauses of the model, which are never dropped. */
  spans: number[] = [];
  activities: number[] = [];
  learned = 0;
  visits = 0;
  readonly #watches: (WatchList | undefined)[];
  #bump = 1;

  constructor(readonly bounds: Bounds) {
    this.#watches = new Array<WatchList | undefined>(bounds.value.length).fill(undefined);
  }

  get count(): number {
    return this.spans.length;
  }

  /** Adds a clause of two atoms or more, of which the first two are watched. Returns its number. */
  add(sides: ArrayLike<number>, values: ArrayLike<number>, size: number, span: number): number {
    const clause = this.spans.length;
    const start = this.starts[clause]!;
    while (start + size > this.sides.length) {
      this.sides = grown(this.sides, new Int32Array(2 * this.sides.length));
      this.values = grown(this.values, new Float64Array(2 * this.values.length));
    }
    for (let i = 0; i < size; i++) {
      this.sides[start + i] = sides[i]!;
      this.values[start + i] = values[i]!;
    }
    this.starts.push(start + size);
    this.spans.push(span);
    this.activities.push(span === 0 ? 0 : this.#bump);
    if (span > 0) this.learned++;
    this.#watch(clause, start, start + 1);
    this.#watch(clause, start + 1, start);
    return clause;
  }

  #watch(clause: number, at: number, other: number): void {
    this.#watchesOf(this.sides[at]! ^ 1).push(
      1 - this.values[at]!,
      clause,
      this.sides[other]!,
      this.values[other]!,
    );
  }

  #watchesOf(side: number): WatchList {
    return (this.#watches[side] ??= new WatchList());
  }

  bump(clause: number): void {
    if (this.spans[clause] === 0) return;
    this.activities[clause]! += this.#bump;
    if (this.activities[clause]! < 1e100) return;
    for (let i = 0; i < this.activities.length; i++) this.activities[i]! *= 1e-100;
    this.#bump *= 1e-100;
  }

  decay(): void {
    this.#bump /= 0.999;
  }

  /** Follows a side that went from `old` up to `now`. False on a conflict, with `bounds.conflict` filled. */
  propagate(side: number, old: number, now: number): boolean {
    const { bounds, sides, values } = this;
    const bound = bounds.value;
    const list = this.#watches[side];
    if (list === undefined) return true;
    const { thresholds, clauses, otherSides, otherValues } = list;
    const size = list.size;
    let kept = 0;
    for (let i = 0; i < size; i++) {
      const threshold = thresholds[i]!;
      const clause = clauses[i]!;
      const otherSide = otherSides[i]!;
      const otherValue = otherValues[i]!;
      thresholds[kept] = threshold;
      clauses[kept] = clause;
      otherSides[kept] = otherSide;
      otherValues[kept] = otherValue;
      kept++;
      if (threshold > now || threshold <= old || bound[otherSide]! >= otherValue) continue;
      this.visits++;
      const start = this.starts[clause]!;
      const end = this.starts[clause + 1]!;
      // Put the atom that has become false second.
      if (sides[start] === (side ^ 1) && values[start] === 1 - threshold) {
        const s = sides[start]!;
        const v = values[start]!;
        sides[start] = sides[start + 1]!;
        values[start] = values[start + 1]!;
        sides[start + 1] = s;
        values[start + 1] = v;
      }
      const firstSide = sides[start]!;
      const firstValue = values[start]!;
      if (bound[firstSide]! >= firstValue) {
        otherSides[kept - 1] = firstSide;
        otherValues[kept - 1] = firstValue;
        continue;
      }
      let found = -1;
      for (let at = start + 2; at < end; at++) {
        if (bound[sides[at]! ^ 1]! < 1 - values[at]!) {
          found = at;
          break;
        }
      }
      if (found >= 0) {
        const s = sides[found]!;
        const v = values[found]!;
        sides[found] = sides[start + 1]!;
        values[found] = values[start + 1]!;
        sides[start + 1] = s;
        values[start + 1] = v;
        this.#watchesOf(s ^ 1).push(1 - v, clause, firstSide, firstValue);
        kept--;
        continue;
      }
      if (bounds.raise(firstSide, firstValue, CLAUSE | (clause << 3))) continue;
      for (i++; i < size; i++) {
        thresholds[kept] = thresholds[i]!;
        clauses[kept] = clauses[i]!;
        otherSides[kept] = otherSides[i]!;
        otherValues[kept] = otherValues[i]!;
        kept++;
      }
      list.size = kept;
      return false;
    }
    list.size = kept;
    return true;
  }

  /** At level 0: drops satisfied clauses and, of the longer learned ones, the less useful half. */
  tidy(): void {
    const { bounds } = this;
    const ranked = this.activities.filter((_, clause) => this.spans[clause]! > 2);
    ranked.sort((a, b) => a - b);
    const limit = ranked[ranked.length >> 1] ?? 0;
    const { sides, values, starts, spans, activities } = this;
    this.starts = [0];
    this.spans = [];
    this.activities = [];
    this.learned = 0;
    for (const list of this.#watches) if (list !== undefined) list.size = 0;
    this.sides = new Int32Array(sides.length);
    this.values = new Float64Array(values.length);
    const keptSides: number[] = [];
    const keptValues: number[] = [];
    for (let clause = 0; clause < spans.length; clause++) {
      if (spans[clause]! > 2 && activities[clause]! < limit) continue;
      keptSides.length = 0;
      keptValues.length = 0;
      let satisfied = false;
      for (let at = starts[clause]!; at < starts[clause + 1]!; at++) {
        if (bounds.holds(sides[at]!, values[at]!)) satisfied = true;
        else if (!bounds.holds(sides[at]! ^ 1, 1 - values[at]!)) {
          keptSides.push(sides[at]!);
          keptValues.push(values[at]!);
        }
      }
      // Propagation has settled the clauses with fewer than two open atoms.
      if (satisfied || keptSides.length < 2) continue;
      const again = this.add(keptSides, keptValues, keptSides.length, spans[clause]!);
      this.activities[again] = activities[clause]!;
    }
  }
}
