import {
  runSession,
  type Restart,
  type SessionReport,
  type StepObserver,
} from '@blockbell/rehearsal';
import type { PlanningChoices } from '@blockbell/planning';
import type { Fault } from '@blockbell/simulation';
import type { Railway } from './railways.js';

export interface RehearseOptions {
  readonly seed: number;
  readonly faults?: readonly Fault[];
  readonly restarts?: readonly Restart[];
  /** Plans are made and followed. */
  readonly planning?: PlanningChoices;
  /** Called after every step. */
  readonly watch?: StepObserver;
}

/** Rehearses a session to its end, the invariants checked after every step. */
export function rehearse(
  railway: Railway,
  { seed, faults = [], restarts = [], planning, watch }: RehearseOptions,
): SessionReport {
  const session = runSession(
    { ...railway, seed, faults, restarts, ...(planning === undefined ? {} : { planning }) },
    watch,
  );
  for (;;) {
    const { done, value } = session.next();
    if (done === true) return value;
  }
}
