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

/** A finding with a name of its own within its check, the same for what is the same finding while times move. */
export interface KeyedFinding extends FindingView {
  readonly key: string;
}

/** Where a service calls at a station twice, what is found there differs by its order alone. */
export function keyFindings(findings: readonly FindingView[]): readonly KeyedFinding[] {
  const seen = new Map<string, number>();
  return findings.map((finding) => {
    const name = [finding.kind, ...finding.services, finding.place].join('|');
    const before = seen.get(name) ?? 0;
    seen.set(name, before + 1);
    return { ...finding, key: `${name}|${before}` };
  });
}
