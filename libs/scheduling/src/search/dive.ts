import type { Engine } from '../engine/engine.js';
import type { Brancher } from './brancher.js';

/** How a dive ended: with a plan, with its limit of conflicts, with nothing left under what was fixed, or for now. */
export type DiveEnd = 'plan' | 'limit' | 'empty' | 'paused';

export interface DiveRules {
  /** Conflicts after which the dive ends. */
  readonly conflicts: number;
  /** Literals decided before anything else. */
  readonly fixed: readonly number[];
  /** Highest cost looked for, if lower than what is of interest anyway. */
  readonly mostCost?: number;
  /** Whether what comes first in time is asked first, else what conflicts have been about. */
  readonly inOrderOfTime: boolean;
}

/** One search from the root, with decisions and learning, that can pause. */
export class Dive {
  #conflicts = 0;
  /** What is fixed and was open when first met; the rest could not be had. */
  readonly #kept: number[] = [];
  #met = 0;
  #next = 0;

  constructor(
    private readonly engine: Engine,
    private readonly brancher: Brancher,
    private readonly rules: DiveRules,
  ) {}

  /** Searches until it ends or the engine's effort reaches `until`. */
  run(until: number): DiveEnd {
    const { engine } = this;
    for (;;) {
      if (!engine.propagate()) {
        this.#conflicts++;
        if (!engine.learn()) return 'empty';
        this.#next = 0;
        if (this.#conflicts >= this.rules.conflicts) return 'limit';
        continue;
      }
      if (engine.effort >= until) return 'paused';
      const step = this.#decide();
      if (step !== null) return step;
    }
  }

  #decide(): DiveEnd | null {
    const { engine, brancher, rules } = this;
    const { bounds } = engine;
    const { mostCost } = rules;
    if (mostCost !== undefined && bounds.level === 0) {
      if (mostCost < engine.leastCost) return 'empty';
      engine.decideCost(mostCost);
      return null;
    }
    for (; this.#next < this.#kept.length; this.#next++) {
      const literal = this.#kept[this.#next]!;
      if (bounds.isTrue(literal)) continue;
      if (bounds.isFalse(literal)) return 'empty';
      engine.decide(literal);
      return null;
    }
    while (this.#met < rules.fixed.length) {
      const literal = rules.fixed[this.#met++]!;
      if (bounds.isFalse(literal)) continue;
      this.#kept.push(literal);
      this.#next = this.#kept.length;
      if (bounds.isTrue(literal)) continue;
      engine.decide(literal);
      return null;
    }
    let literal = rules.inOrderOfTime ? -1 : brancher.byActivity();
    if (literal < 0) literal = brancher.byTime();
    if (literal < 0) literal = brancher.asItStands();
    if (literal < 0) return 'plan';
    engine.decide(literal);
    return null;
  }
}
