import type { FaultKind } from '@blockbell/simulation';
import type { InvariantNumber } from '../invariants/violation.js';

/** How often one invariant was broken for one cause that no logic could have prevented. */
export interface Excused {
  readonly invariant: InvariantNumber;
  readonly cause: FaultKind;
  readonly count: number;
}

/** Added up by cause and invariant, in that order. */
export function addExcused(parts: readonly Excused[]): Excused[] {
  const all = new Map<string, Excused>();
  for (const { invariant, cause, count } of parts) {
    const key = `${cause} ${invariant}`;
    all.set(key, { invariant, cause, count: count + (all.get(key)?.count ?? 0) });
  }
  return [...all.entries()].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, each]) => each);
}
