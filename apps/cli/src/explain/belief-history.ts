import {
  compileWorld,
  createSession,
  explainBelief,
  fastNow,
  step,
  type EngineState,
  type Explanation,
  type Subject,
  type World,
} from '@blockbell/railway';
import type { JournalFile } from '../journal/journal-file.js';

/** A belief as it was from a moment on. */
export interface BeliefChange {
  /** Physical ms. */
  readonly at: number;
  /** Fast-clock ms since midnight. */
  readonly fast: number;
  readonly explanation: Explanation;
}

/** What was believed at a moment, and how that came about. */
export interface BeliefHistory {
  readonly at: number;
  readonly fast: number;
  readonly now: Explanation;
  /** Every change of the belief or of its first evidence, oldest first. */
  readonly changes: readonly BeliefChange[];
}

/**
 * Feeds a journal to a fresh engine up to `until` (physical ms; null: to the end) and writes down every change of what is
 * believed of each subject.
 */
export function beliefHistories(
  { heading, batches }: JournalFile,
  subjects: (world: World, state: EngineState) => readonly Subject[],
  until: number | null,
): Map<Subject, BeliefHistory> {
  const world = compileWorld(heading.layout, heading.stock, heading.timetable);
  const state = createSession(world);
  const seen = { world, state };
  const changes = new Map(
    subjects(world, state).map((subject): [Subject, BeliefChange[]] => [subject, []]),
  );
  const look = (at: number): void => {
    for (const [subject, list] of changes) {
      const explanation = explainBelief(seen, subject);
      if (isSame(list.at(-1)?.explanation, explanation)) continue;
      list.push({ at, fast: fastNow(state.session.clock, at), explanation });
    }
  };
  look(0);
  for (const input of batches.flatMap(({ inputs }) => inputs)) {
    if (until !== null && input.at > until) break;
    step(world, state, input);
    look(state.now);
  }
  const at = until ?? state.now;
  const fast = fastNow(state.session.clock, at);
  return new Map(
    [...changes].map(([subject, list]) => [
      subject,
      { at, fast, now: explainBelief(seen, subject), changes: list },
    ]),
  );
}

const isSame = (before: Explanation | undefined, now: Explanation): boolean =>
  before?.belief === now.belief && before.evidence[0] === now.evidence[0];
