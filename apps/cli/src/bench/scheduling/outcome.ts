import type { Target } from './best-known.js';

/** What planning one problem came to. */
export interface Outcome {
  readonly name: string;
  /** Cost of the best plan; null without one. */
  readonly cost: number | null;
  readonly bound: number;
  readonly status: string;
  /** Until the first plan in a warm thread, until the best plan and until the end, ms; null without a plan. */
  readonly first: number | null;
  readonly best: number | null;
  readonly whole: number;
  /** What the verifier found wrong with the best plan. */
  readonly faults: readonly string[];
}

/** What an outcome lacks, in words; empty when the target is reached. Without a target, a plan is enough. */
export function shortfalls(outcome: Outcome, target: Target | undefined): string[] {
  const { cost, first, status } = outcome;
  const found = [...outcome.faults];
  if (target === undefined) {
    if (cost === null && status !== 'infeasible') found.push('no plan');
    return found;
  }
  const most = Math.floor(target.bestKnown * (1 + target.allowed));
  if (cost === null) found.push('no plan');
  else if (cost > most) found.push(`costs ${cost}, may cost ${most}`);
  if (target.firstPlan !== undefined && (first === null || first > target.firstPlan))
    found.push(
      `first plan after ${first?.toFixed(0) ?? '–'} ms, wanted within ${target.firstPlan}`,
    );
  return found;
}

export const HEADINGS = [
  'instance',
  'ours',
  'best known',
  'gap',
  'bound',
  'first plan ms',
  'best plan s',
  'ended s',
  'status',
];

export function columns(outcome: Outcome, target: Target | undefined): string[] {
  const { name, cost, bound, first, best, whole, status } = outcome;
  const known = target?.bestKnown;
  return [
    name,
    cost === null ? '–' : String(cost),
    known === undefined ? '–' : String(known),
    cost === null || known === undefined ? '–' : gapText(cost, known),
    String(bound),
    first === null ? '–' : first.toFixed(0),
    best === null ? '–' : (best / 1000).toFixed(2),
    (whole / 1000).toFixed(2),
    status,
  ];
}

const gapText = (cost: number, known: number): string =>
  cost === known ? '0 %' : `${(((cost - known) / Math.max(1, known)) * 100).toFixed(2)} %`;
