import type { Engine } from '../engine/engine.js';
import type { Model } from '../model/model.js';
import type { Chance } from './chance.js';
import type { DiveEnd, DiveRules } from './dive.js';
import type { LastPlan } from './last-plan.js';
import { keptLiterals, NEIGHBOURHOODS, type Neighbourhood } from './neighbourhoods.js';

/**
 * The kinds of dives: for a first plan; for one far better than the last; for a better one near the last; to raise
 * the bound; and the whole search, which proves the last plan the best.
 */
type Kind = 'first' | 'leap' | Neighbourhood | 'bound' | 'whole';

/** Kinds in turn once there is a plan: a problem that is small is settled by them soonest. */
const SOON: readonly Exclude<Kind, 'first'>[] = ['bound', 'whole'];
/** Conflicts of whole searches after which a problem is not small. */
const SMALL = 600;
/** And the turn then; `near` stands for any neighbourhood. */
const TURN: readonly Exclude<Kind, 'first'>[] = [
  'near',
  'near',
  'leap',
  'near',
  'near',
  'bound',
  'near',
  'whole',
];

/** How much of what lies between bound and cost the first attempt to raise the bound is about. */
const FIRST_STEP = 0.2;

const CONFLICTS = { first: 100, leap: 300, neighbourhood: 150, bound: 500, whole: 250 };

/** Decides what kind of dive comes next, and learns from how the dives end how far each kind should reach. */
export class Rounds {
  #kind: Kind = 'first';
  #round = 0;
  #firsts = 0;
  #wholes = 0;
  #leaps = 0;
  /** Where between bound and cost a leap aims: near 0 at the bound. */
  #reach = 0.1;
  /** How far above the bound the next attempt to raise it looks; 0: none has been made. */
  #step = 0;
  readonly #shares: Record<Neighbourhood, number> = { trains: 0.3, near: 0.3, window: 0.3 };

  constructor(
    private readonly model: Model,
    private readonly engine: Engine,
    private readonly chance: Chance,
  ) {}

  next(plan: LastPlan | null): DiveRules {
    const { engine } = this;
    if (plan === null) {
      this.#kind = 'first';
      const round = this.#firsts++;
      return {
        conflicts: CONFLICTS.first * luby(round >> 1),
        fixed: [],
        inOrderOfTime: round % 2 === 0,
      };
    }
    const kinds = engine.conflicts < SMALL ? SOON : TURN;
    const turn = kinds[this.#round++ % kinds.length]!;
    const kind = turn === 'near' ? this.chance.pick(NEIGHBOURHOODS) : turn;
    this.#kind = kind;
    const span = engine.mostCost - engine.leastCost;
    switch (kind) {
      case 'leap':
        return {
          conflicts: CONFLICTS.leap,
          fixed: [],
          mostCost: engine.leastCost + Math.floor(span * this.#reach),
          inOrderOfTime: this.#leaps++ % 2 === 1,
        };
      case 'bound':
        if (this.#step === 0) this.#step = Math.max(1, span * FIRST_STEP);
        return {
          conflicts: CONFLICTS.bound,
          fixed: [],
          mostCost: engine.leastCost + Math.min(span, Math.floor(this.#step)),
          inOrderOfTime: false,
        };
      case 'whole':
        return {
          conflicts: CONFLICTS.whole * luby(this.#wholes++),
          fixed: [],
          inOrderOfTime: false,
        };
      default:
        return {
          conflicts: CONFLICTS.neighbourhood,
          fixed: keptLiterals(this.model, plan, kind, this.#shares[kind], this.chance),
          inOrderOfTime: false,
        };
    }
  }

  /** Takes note of how the last dive ended. */
  ended(end: DiveEnd): void {
    const kind = this.#kind;
    switch (kind) {
      case 'first':
      case 'whole':
        return;
      case 'leap':
        // As long as leaps succeed, nothing else is worth its time.
        if (end === 'plan') this.#round = TURN.indexOf('leap');
        this.#reach =
          end === 'plan' ? Math.max(0.03, this.#reach * 0.8) : Math.min(0.9, this.#reach * 1.25);
        return;
      case 'bound':
        this.#step = end === 'empty' ? this.#step * 1.5 : Math.max(0.6, this.#step * 0.7);
        return;
      default:
        this.#shares[kind] =
          end === 'limit'
            ? Math.max(0.02, this.#shares[kind] * 0.95)
            : Math.min(1, this.#shares[kind] * 1.05);
    }
  }
}

/** The sequence 1, 1, 2, 1, 1, 2, 4, … of Luby, Sinclair and Zuckerman (1993), from index 0. */
function luby(index: number): number {
  let size = 1;
  while (size < index + 1) size = 2 * size + 1;
  let at = index;
  while (size - 1 !== at) {
    size = (size - 1) / 2;
    at %= size;
  }
  return (size + 1) / 2;
}
