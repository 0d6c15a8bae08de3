import type { FindingView } from '@blockbell/contract/messages';

/** What is wrong, in two or three words. */
export const FINDING_WORDS: Readonly<Record<FindingView['kind'], string>> = {
  'running-time': 'Running time too short',
  dwell: 'Dwell too short',
  'turn-round': 'Turned round too late',
  'workings-apart': 'Working does not join',
  'track-conflict': 'Same track at once',
  'no-room': 'No track left',
  'too-long': 'Train too long',
  'no-way': 'No way leads on',
  transfer: 'No time to change',
  'outside-session': 'Outside the session',
};

/** The same for what is the same finding, while times move. */
export const findingKey = ({ kind, services, place }: FindingView): string =>
  [kind, ...services, place].join('|');
