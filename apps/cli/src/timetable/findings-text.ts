import type { Finding, TimetableCheck } from '@blockbell/timetabling';
import { counted } from '../fault-text.js';

/** A finding on two lines: what, then what would mend it. */
const findingText = ({ weight, text, proposal }: Finding): string =>
  `${weight === 'tight' ? 'tight' : 'breaks'}: ${text}\n  proposal: ${proposal.text}`;

/** What breaks the timetable first, then what is only tight. */
export const findingsText = (findings: readonly Finding[]): string =>
  findings.map(findingText).join('\n');

/** `3 findings that break the timetable, 1 that is tight.` */
export function findingsSummary({ findings }: TimetableCheck): string {
  const tight = findings.filter(({ weight }) => weight === 'tight').length;
  const breaks = findings.length - tight;
  if (findings.length === 0) return 'The timetable can be kept: no finding.';
  const parts = [
    ...(breaks === 0
      ? ['Nothing breaks the timetable']
      : [`${counted(breaks, 'finding')} ${breaks === 1 ? 'breaks' : 'break'} the timetable`]),
    ...(tight === 0 ? [] : [`${counted(tight, 'is', 'are')} tight: less than a minute is missing`]),
  ];
  return `${parts.join('; ')}.`;
}
