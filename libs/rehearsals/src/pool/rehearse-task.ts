import { compileLayout, type Layout } from '@blockbell/railway';
import { workerData } from 'piscina';
import { rehearseOnce, type RehearsalPlan } from '../session/rehearse-once.js';
import type { SessionResult } from '../session/session-result.js';

/** One session: which of the plans, and with which seed. */
export interface RehearsalTask {
  readonly plan: number;
  readonly seed: number;
}

const { plans } = workerData as { readonly plans: readonly RehearsalPlan[] };
const layouts = new Map<number, Layout>();

/** Runs in a worker thread, which compiles each layout once. */
export default function rehearse({ plan, seed }: RehearsalTask): SessionResult {
  const chosen = plans[plan]!;
  const layout = layouts.get(plan) ?? compileLayout(chosen.layout);
  layouts.set(plan, layout);
  return rehearseOnce(chosen, seed, layout);
}
