import type { Exploration, ExploreProgress } from '@blockbell/rehearsal';
import { counted } from '../fault-text.js';

/** One report in words; a broken invariant with the shortest way to it, one line a happening. */
export function explorationText(report: Exploration): string {
  const { scenario, about, states, transitions, merged, ends, depth, complete, violation } = report;
  const { compared, alike } = report;
  const head =
    `${scenario}: ${counted(states, 'state')}, ${counted(transitions, 'transition')} ` +
    `(${merged} to a state known already), ${counted(ends, 'end')}, at most ${depth} steps deep.` +
    (compared === 0 ? '' : ` Of ${compared} states merged, ${alike} go on alike.`);
  const title = `${head}\n  ${about}`;
  if (violation === null) {
    const verdict = complete
      ? 'All of them gone through: every invariant holds in every state.'
      : 'Broken off: not every state was gone through; no invariant was broken in those that were.';
    return `${title}\n  ${verdict}`;
  }
  const broken = violation.broken.map(
    ({ invariant, text }) => `  Invariant ${invariant}: ${text}.`,
  );
  const path = violation.path.map((line, at) => `  ${String(at).padStart(4)}  ${line}`);
  return [title, 'BROKEN:', ...broken, 'The shortest way there:', ...path].join('\n');
}

/** How far it has come. */
export const exploreProgressText = (
  name: string,
  { states, transitions, waiting }: ExploreProgress,
): string => `${name}: ${states} states, ${transitions} transitions, ${waiting} to go on from`;
