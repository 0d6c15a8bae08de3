import type { Fault, FaultKind } from '@blockbell/simulation';

/**
 * The seven invariants of safety, as checked against the simulated truth after every step:
 *
 * 1. no two trains touch, and none strikes the end of the track;
 * 2. no turnout and no polarity changes under a train, and none is run through;
 * 3. no train passes its locked limit;
 * 4. no element is held by two trains, and none is freed while a train stands on it;
 * 5. a train that may move is not stuck for ever;
 * 6. every held element is held for a train that is on the layout and has it on its way;
 * 7. nothing moves before its place is confirmed by detection or by a person.
 *
 * They hold as long as detection speaks the truth within its declared delays, dropouts are shorter than the hold-off or
 * the train stands where its length leaves no doubt, drives without feedback obey, and trains run within their measured
 * spread. What no logic could prevent (stock moved by hand, cars lost, a runaway, energy stored beyond what was declared, a
 * contact lost for longer, a drive without feedback that sticks) is counted apart as excused, with its cause.
 */
export type InvariantNumber = 1 | 2 | 3 | 4 | 5 | 6 | 7;

export interface Violation {
  readonly invariant: InvariantNumber;
  /** Physical ms. */
  readonly at: number;
  /** Number of the engine step after which it was found. */
  readonly step: number;
  readonly text: string;
  /** The fault that no logic could have prevented, or null. */
  readonly excuse: FaultKind | null;
}

const EXCUSING: readonly FaultKind[] = ['runaway', 'hand-moved', 'lost-cars', 'coupled', 'run-on'];

/** Whether a fault can bring trains where no logic could keep them from: running on as far as declared is no excuse. */
export const isExcuse = (fault: Fault): boolean =>
  EXCUSING.includes(fault.kind) && !(fault.kind === 'run-on' && fault.permille <= 1000);
