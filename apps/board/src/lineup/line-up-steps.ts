import type { LineUpView, SessionView } from '@blockbell/contract/messages';
import type { Command } from '../shared/board.svelte.js';

/** Whether the line-up takes the place of the trains' list: before a start, and while a stop left questions open. */
export const isLiningUp = ({ phase, openQuestions }: SessionView): boolean =>
  phase === 'set-up' ||
  phase === 'line-up' ||
  phase === 'powerless' ||
  (phase === 'stopped' && openQuestions > 0);

/** Whether places can be confirmed now: detection tells what is where. */
export const isAsking = ({ phase }: SessionView): boolean =>
  phase === 'line-up' || phase === 'stopped';

/** What to do next, in words. */
export function nextStep(
  session: SessionView,
  rows: readonly LineUpView[],
  strangers: number,
): string {
  if (session.phase === 'set-up')
    return 'Put the trains where they are listed, then switch track power on. Every train stays at a stand; detection then says what is where.';
  if (session.phase === 'powerless')
    return 'Power comes back with every train at a stand; the line-up is checked before anything moves.';
  const asked = rows.filter(({ status }) => isOpen(status)).length;
  if (session.openQuestions === 0 && session.why) return session.why;
  if (session.openQuestions === 0) return 'Every train is confirmed. Start the session.';
  const parts = [
    ...(asked > 0
      ? [`say where ${asked === 1 ? 'one train stands' : `${asked} trains stand`}`]
      : []),
    ...(strangers > 0
      ? [`say what stands in ${strangers === 1 ? 'one block' : `${strangers} blocks`}`]
      : []),
  ];
  return parts.length > 0
    ? `Look at the layout and ${parts.join(' and ')}. Then start.`
    : (session.why ?? 'Waiting for detection.');
}

export const isOpen = (status: LineUpView['status']): boolean =>
  status === 'ask' || status === 'missing' || status === 'mismatch';

/** Open questions first, then in the order of the trains. */
export const lineUpToShow = (rows: readonly LineUpView[]): readonly LineUpView[] =>
  rows.toSorted((p, q) => Number(isOpen(q.status)) - Number(isOpen(p.status)) || p.train - q.train);

/** One confirmation for each train that only lacks a person's word: something stands there, its decoder is silent. */
export const confirmAsListed = (rows: readonly LineUpView[]): readonly Command[] =>
  rows
    .filter(({ status, heading }) => status === 'ask' && heading >= 0)
    .map(({ train, heading }) => ({ kind: 'confirm-place', train, heading }));

export const STATUS_WORDS: Readonly<Record<LineUpView['status'], string>> = {
  confirmed: 'confirmed',
  ask: 'asks you',
  missing: 'not seen',
  mismatch: 'elsewhere?',
  absent: 'not on the layout',
};
