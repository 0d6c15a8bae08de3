import type { FaultKind } from '@blockbell/simulation';
import type { SessionOutcome } from './endure-session.js';
import { addExcused, type Excused } from './excused.js';
import { FAULT_LEVELS, type FaultLevel } from './fault-rates.js';

/** What several sessions came to together. */
export interface Totals {
  readonly sessions: number;
  readonly demo: number;
  /** Sessions that did not come to their end within the time allowed. */
  readonly notEnded: number;
  readonly failed: number;
  readonly steps: number;
  /** Of all trains together, mm on the model. */
  readonly distance: number;
  readonly edges: number;
  readonly throws: number;
  readonly planned: number;
  readonly run: number;
  readonly faults: Partial<Record<FaultKind, number>>;
  readonly excused: readonly Excused[];
  readonly questions: number;
  readonly compared: number;
  /** Train-ms; `wrong` by the fault that brought the train there, `none` without one. */
  readonly identity: {
    readonly right: number;
    readonly uncertain: number;
    readonly wrong: Readonly<Record<string, number>>;
  };
}

export interface Summary {
  readonly all: Totals;
  /** Levels of which there was no session are left out. */
  readonly byLevel: readonly { readonly level: FaultLevel; readonly totals: Totals }[];
}

export function summarise(outcomes: readonly SessionOutcome[]): Summary {
  return {
    all: totals(outcomes),
    byLevel: FAULT_LEVELS.flatMap((level) => {
      const own = outcomes.filter((each) => each.level === level);
      return own.length === 0 ? [] : [{ level, totals: totals(own) }];
    }),
  };
}

function totals(outcomes: readonly SessionOutcome[]): Totals {
  const sum = (of: (outcome: SessionOutcome) => number): number =>
    outcomes.reduce((all, each) => all + of(each), 0);
  return {
    sessions: outcomes.length,
    demo: outcomes.filter(({ isDemo }) => isDemo).length,
    notEnded: outcomes.filter(({ ended }) => !ended).length,
    failed: outcomes.filter(({ failure }) => failure !== null).length,
    steps: sum(({ steps }) => steps),
    distance: sum(({ distance }) => distance),
    edges: sum(({ edges }) => edges),
    throws: sum(({ throws }) => throws),
    planned: sum(({ services }) => services.planned),
    run: sum(({ services }) => services.run),
    faults: addUp(outcomes.map(({ faults }) => faults)),
    excused: addExcused(outcomes.flatMap(({ excused }) => excused)),
    questions: sum(({ questions }) => questions),
    compared: sum(({ compared }) => compared),
    identity: {
      right: sum(({ identity }) => identity.right),
      uncertain: sum(({ identity }) => identity.uncertain),
      wrong: addUp(outcomes.map(({ identity }) => identity.wrong)),
    },
  };
}

/** Counts by name, added up; names in the order of the alphabet. */
function addUp(counts: readonly Readonly<Record<string, number>>[]): Record<string, number> {
  const all = new Map<string, number>();
  for (const each of counts) {
    for (const [name, count] of Object.entries(each)) all.set(name, (all.get(name) ?? 0) + count);
  }
  return Object.fromEntries([...all].sort(([a], [b]) => (a < b ? -1 : 1)));
}
