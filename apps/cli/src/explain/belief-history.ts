import {
  chainSentence,
  compileWorld,
  createSession,
  explainBelief,
  fastNow,
  step,
  waitChain,
  type EngineState,
  type Explanation,
  type Subject,
  type WaitChain,
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

/** A chain of causes as data and in one sentence. */
export interface ToldChain extends WaitChain {
  readonly text: string;
}

/** What was believed at a moment, and how that came about. */
export interface BeliefHistory {
  readonly at: number;
  readonly fast: number;
  readonly now: Explanation;
  /** Of a train: why it waits at that moment, to the root of the chain of causes; null when it does not, and of track. */
  readonly wait: ToldChain | null;
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
      {
        at,
        fast,
        now: explainBelief(seen, subject),
        wait: subject.kind === 'train' ? toldChain(world, state, subject.index) : null,
        changes: list,
      },
    ]),
  );
}

function toldChain(world: World, state: EngineState, train: number): ToldChain | null {
  const chain = waitChain(world, state, train);
  return chain === null ? null : { text: `${chainSentence(world, chain)}.`, ...chain };
}

const isSame = (before: Explanation | undefined, now: Explanation): boolean =>
  before?.belief === now.belief && before.evidence[0] === now.evidence[0];
