import type { RouteTrial, TrialReport } from './trial.js';

/** Of an earlier version, without its name. */
type KeptRoute = Pick<RouteTrial, 'route' | 'outcome'> & { readonly name?: string | undefined };

/** What is compared of a report: one that was kept may come from a file. */
export interface KeptTrial {
  readonly layout: TrialReport['layout'];
  readonly trials: readonly KeptRoute[];
}

/** A route that came to something else than before; null: it was not tried, or the layout has it no more. */
export interface ChangedRoute {
  readonly route: string;
  readonly name: string;
  readonly before: RouteTrial['outcome'] | null;
  readonly now: RouteTrial['outcome'] | null;
}

export interface TrialComparison {
  /** The layout of the earlier report. */
  readonly layout: TrialReport['layout'];
  /** Whether the layout was another then, by the digest of its content: what was found then need not hold any more. */
  readonly isStale: boolean;
  readonly alike: number;
  readonly changed: readonly ChangedRoute[];
}

/**
 * Compares a trial with an earlier one, route by route in the order of the present one. Routes that only the earlier one tried are
 * told of where the layout has them no more. `known`: ids of all routes of the layout.
 */
export function compareTrials(
  now: KeptTrial,
  before: KeptTrial,
  known: ReadonlySet<string>,
): TrialComparison {
  const earlier = new Map(before.trials.map(({ route, outcome }) => [route, outcome]));
  const changed = now.trials.flatMap(({ route, name, outcome }): ChangedRoute[] => {
    const was = earlier.get(route) ?? null;
    return was === outcome ? [] : [{ route, name: name ?? route, before: was, now: outcome }];
  });
  const gone = before.trials.flatMap(({ route, name, outcome }): ChangedRoute[] =>
    known.has(route) ? [] : [{ route, name: name ?? route, before: outcome, now: null }],
  );
  return {
    layout: before.layout,
    isStale: before.layout.hash !== now.layout.hash,
    alike: now.trials.length - changed.length,
    changed: [...changed, ...gone],
  };
}
