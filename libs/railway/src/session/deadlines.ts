import type { Deadline, DeadlineKind, EngineState } from './state.js';

/** Order of kinds at one instant: what stops trains comes before what lets them go. */
const RANK: Record<DeadlineKind, number> = {
  profile: 0,
  overdue: 1,
  'hold-off': 2,
  'left-behind': 3,
  drive: 4,
  stand: 5,
  approach: 6,
  'draw-up': 7,
  settle: 8,
  retry: 9,
  depart: 10,
  request: 11,
  plan: 12,
  patience: 13,
  dispatch: 14,
};

/** Before, same or after: by time, then kind, then subject. */
function compare(a: Deadline, b: Deadline): number {
  return a.at - b.at || RANK[a.kind] - RANK[b.kind] || a.subject - b.subject;
}

/** Sets the one deadline of its kind and subject, taking back an earlier one. */
export function setDeadline(
  state: EngineState,
  kind: DeadlineKind,
  subject: number,
  at: number,
): void {
  clearDeadline(state, kind, subject);
  const entry: Deadline = { at, kind, subject };
  const list = state.deadlines;
  let low = 0;
  let high = list.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (compare(list[middle]!, entry) < 0) low = middle + 1;
    else high = middle;
  }
  list.splice(low, 0, entry);
}

export function clearDeadline(state: EngineState, kind: DeadlineKind, subject: number): void {
  const at = state.deadlines.findIndex((d) => d.kind === kind && d.subject === subject);
  if (at >= 0) state.deadlines.splice(at, 1);
}

export function hasDeadline(state: EngineState, kind: DeadlineKind, subject: number): boolean {
  return state.deadlines.some((d) => d.kind === kind && d.subject === subject);
}

/** When the engine next wants to be woken, or next after a moment, in physical ms; null: never. */
export function nextDeadline(state: EngineState, after = -Infinity): number | null {
  return state.deadlines.find(({ at }) => at > after)?.at ?? null;
}

/** Takes the first deadline that is due at `now`, or null. */
export function takeDue(state: EngineState, now: number): Deadline | null {
  const first = state.deadlines[0];
  if (first === undefined || first.at > now) return null;
  state.deadlines.shift();
  return first;
}
