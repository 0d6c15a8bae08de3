import { Activity } from './activity.js';
import { Analysis } from './analysis.js';
import type { AtomList } from './atoms.js';
import { Bounds, NO_REASON } from './bounds.js';
import { Clauses } from './clauses.js';
import { Costs, type CostTerm } from './costs.js';
import type { EventGraph } from './event-graph.js';
import { CLAUSE, COST } from './reasons.js';
import { Times } from './times.js';

/** Learned clauses at which the less useful half is dropped. */
const MOST_LEARNED = 20_000;

/** What the engine is made from. */
export interface EngineInput {
  /** Bounds by variable; variable 0 is fixed at 1. */
  readonly lower: readonly number[];
  readonly upper: readonly number[];
  readonly graph: EventGraph;
  /** Literals, one of which at least has to be true. */
  readonly clauses: readonly (readonly number[])[];
  readonly terms: readonly CostTerm[];
  /** Variable of the whole cost. */
  readonly total: number;
}

/**
 * Constraint propagation with learning: decisions on literals are followed through clauses, times and the cost; from
 * every dead end a clause is learned that keeps out of it.
 */
export class Engine {
  readonly bounds: Bounds;
  readonly clauses: Clauses;
  readonly times: Times;
  readonly activity: Activity;
  readonly total: number;
  /** Whether a literal's variable was last true, by variable. */
  readonly phase: Uint8Array;
  conflicts = 0;
  /** How often the trail has become shorter: something was taken back, or settled for good. */
  returns = 0;
  /** True once there is provably nothing left to find. */
  exhausted = false;
  readonly #costs: Costs;
  readonly #analysis: Analysis;
  readonly #undone: (side: number) => void;
  #clauseHead = 0;
  #timeHead = 0;
  #entries = 0;

  constructor(input: EngineInput) {
    const { lower, upper, graph, clauses, terms, total } = input;
    this.total = total;
    this.bounds = new Bounds(lower, upper);
    this.clauses = new Clauses(this.bounds);
    this.times = new Times(this.bounds, graph);
    this.#costs = new Costs(this.bounds, terms, total, this.times);
    this.activity = new Activity(lower.length);
    this.phase = new Uint8Array(lower.length);
    for (let v = 1; v < lower.length; v++) {
      if (lower[v] === 0 && upper[v] === 1 && this.times.nodeOf(2 * v) < 0) this.activity.put(v);
    }
    this.#undone = (side) => {
      if (this.times.nodeOf(side) >= 0) return;
      const variable = side >> 1;
      if (variable === total) return;
      this.phase[variable] = 1 - (side & 1);
      this.activity.put(variable);
    };
    this.#analysis = new Analysis(
      this.bounds,
      (reason, entry, side, value, atoms) => this.#explain(reason, entry, side, value, atoms),
      (reason) => {
        if ((reason & 7) === CLAUSE) this.clauses.bump(reason >> 3);
      },
      (variable) => this.activity.bump(variable),
    );
    for (let v = 0; v < lower.length; v++) if (lower[v]! > upper[v]!) this.exhausted = true;
    for (const clause of clauses) this.#addClause(clause);
    if (!this.exhausted && (!this.times.begin() || !this.#settle())) this.exhausted = true;
  }

  /** Work done so far: edges and clauses looked at and bounds changed. */
  get effort(): number {
    return this.times.visits + this.clauses.visits + this.#entries;
  }

  #addClause(literals: readonly number[]): void {
    const open = [...new Set(literals)].filter((literal) => !this.bounds.isFalse(literal));
    if (open.some((literal) => this.bounds.isTrue(literal) || open.includes(literal ^ 1))) return;
    if (open.length === 0) this.exhausted = true;
    else if (open.length === 1) this.bounds.makeTrue(open[0]!, NO_REASON);
    else
      this.clauses.add(
        open,
        open.map((literal) => 1 - (literal & 1)),
        open.length,
        0,
      );
  }

  #settle(): boolean {
    if (!this.propagate()) return false;
    this.bounds.settle();
    this.returns++;
    this.#clauseHead = 0;
    this.#timeHead = 0;
    return true;
  }

  /** Opens a level and decides a literal there; what follows is found by `propagate`. */
  decide(literal: number): void {
    this.#openLevel();
    this.bounds.makeTrue(literal, NO_REASON);
  }

  /** Opens a level on which the whole cost may not be above `most`. */
  decideCost(most: number): void {
    this.#openLevel();
    this.bounds.raise(2 * this.total + 1, -most, NO_REASON);
  }

  #openLevel(): void {
    this.bounds.openLevel();
    this.times.order.openLevel(this.bounds.level);
  }

  /** For good: only costs up to `most` are of interest. */
  limitCost(most: number): void {
    this.backTo(0);
    if (this.exhausted) return;
    if (!this.bounds.raise(2 * this.total + 1, -most, NO_REASON) || !this.#settle())
      this.exhausted = true;
  }

  /** Least cost there can be, as far as is known without any decision. */
  get leastCost(): number {
    return this.bounds.root[2 * this.total]!;
  }

  get mostCost(): number {
    return -this.bounds.root[2 * this.total + 1]!;
  }

  backTo(level: number): void {
    if (level >= this.bounds.level) return;
    this.returns++;
    this.times.order.backTo(level);
    this.bounds.backTo(level, this.#undone);
    this.#clauseHead = Math.min(this.#clauseHead, this.bounds.size);
    this.#timeHead = Math.min(this.#timeHead, this.bounds.size);
    this.#costs.notice(2 * this.total + 1);
  }

  /** Follows everything that has changed to its end. False on a conflict. */
  propagate(): boolean {
    const { bounds, clauses, times } = this;
    for (;;) {
      while (this.#clauseHead < bounds.size) {
        const entry = this.#clauseHead++;
        const side = bounds.sideOf[entry]!;
        this.#entries++;
        this.#costs.notice(side);
        if (!clauses.propagate(side, bounds.oldValue(entry), bounds.newValue[entry]!)) return false;
        if (times.nodeOf(side) < 0 && side >> 1 !== this.total && !times.followLiteral(side))
          return false;
      }
      if (this.#timeHead < bounds.size) {
        const entry = this.#timeHead++;
        const side = bounds.sideOf[entry]!;
        if (times.nodeOf(side) < 0 || bounds.last[side] !== entry) continue;
        if (!times.followTime(side)) return false;
      } else if (this.#costs.due) {
        if (!this.#costs.propagate()) return false;
      } else {
        return true;
      }
    }
  }

  /** After a conflict: learns a clause, goes back, and applies it. False when nothing is left (`exhausted`). */
  learn(): boolean {
    this.conflicts++;
    const analysis = this.#analysis;
    if (!analysis.run()) {
      this.exhausted = true;
      return false;
    }
    this.backTo(analysis.level);
    const { learned } = analysis;
    let reason = NO_REASON;
    if (learned.size > 1) {
      const clause = this.clauses.add(learned.sides, learned.values, learned.size, analysis.span);
      reason = CLAUSE | (clause << 3);
    }
    this.activity.decay();
    this.clauses.decay();
    this.bounds.raise(learned.sides[0]!, learned.values[0]!, reason);
    if (this.bounds.level === 0 && !this.#settle()) this.exhausted = true;
    return !this.exhausted;
  }

  /** Goes back to level 0 and, when there are many learned clauses, forgets those that have not helped for long. */
  tidy(): void {
    this.backTo(0);
    if (this.exhausted || this.clauses.learned < MOST_LEARNED) return;
    this.clauses.tidy();
  }

  #explain(reason: number, entry: number, side: number, value: number, atoms: AtomList): void {
    const kind = reason & 7;
    if (kind === CLAUSE) {
      const { sides, values, starts } = this.clauses;
      const clause = reason >> 3;
      const start = starts[clause]!;
      // The atom that followed stands first.
      for (let at = start + 1; at < starts[clause + 1]!; at++)
        atoms.push(sides[at]! ^ 1, 1 - values[at]!);
    } else if (kind === COST) {
      this.#costs.explain(reason, entry, side, value, atoms);
    } else {
      this.times.explain(reason, entry, side, value, atoms);
    }
  }
}
