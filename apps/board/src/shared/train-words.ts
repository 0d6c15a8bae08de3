import type { TrainView } from '@blockbell/contract/messages';
import type { Railway } from '../live/session-files.js';
import type { ToldTrain } from '../live/told-train.js';

/** What stands on a train's label. */
export const labelOf = (railway: Railway | null, train: number): string =>
  railway?.stock.trains[train]?.file.label ?? `#${train}`;

/** How a train's place is known, to go after "known". */
export const KNOWN_WORDS: Readonly<Record<TrainView['known'], string>> = {
  reported: 'by report: its decoder answered',
  inferred: 'by inference: it can only be this train',
  declared: 'by declaration: a person said so',
  expected: 'from the stored place, not confirmed yet',
  ambiguous: 'in part: a second train is not excluded',
};

/** A train in one sentence, for those who hear the board. */
export function trainWords(
  label: string,
  { where, activity, known, handSpeed, wait }: ToldTrain,
): string {
  const waits = wait ? ` Waits: ${wait}` : '';
  const inHand = handSpeed === null ? '' : ', in hand';
  return `Train ${label}, ${activity}, ${where}, ${known}${inHand}.${waits}`;
}
