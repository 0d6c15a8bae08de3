import type { CheckName, ProofCheck, ProofProgress, ProofReport } from '@blockbell/railway';
import { counted } from '../fault-text.js';

/** Faults and notes of one check printed at most; JSON has all of them. */
const SHOWN = 20;

const TITLES: Readonly<Record<CheckName, string>> = {
  routes: 'Routes',
  exclusion: 'Exclusion',
  flank: 'Flank',
  drives: 'Drives',
  sharing: 'Sharing',
  positions: 'Positions',
  leaving: 'Leaving',
};

export const proofProgressText = ({ check, done, of }: ProofProgress): string =>
  `${TITLES[check]}: ${done} of ${of} routes`;

/** A proof as a builder reads it: one line a check, below it where it fails and what else is to be known. */
export function proofText({ layout, size, checks, proved }: ProofReport): string {
  const faults = checks.reduce((sum, check) => sum + check.faults.length, 0);
  return [
    `${layout.name} (${layout.hash})`,
    `  ${counted(size.sections, 'section')}, ${counted(size.blocks, 'block')}, ` +
      `${counted(size.drives, 'drive')}, ${counted(size.routes, 'route')}, ` +
      `${counted(size.exclusions, 'pair')} of routes that exclude one another`,
    ...checks.flatMap(checkLines),
    proved ? 'Proved.' : `Not proved: ${counted(faults, 'fault')}.`,
  ].join('\n');
}

function checkLines({ name, claim, looked, faults, notes }: ProofCheck): string[] {
  const verdict = faults.length === 0 ? 'holds' : 'FAILS';
  return [
    `  ${TITLES[name].padEnd(10)} ${verdict}  ${claim} (${looked} looked at)`,
    ...listed(faults, 'fault'),
    ...listed(notes, 'note'),
  ];
}

function listed(lines: readonly string[], kind: string): string[] {
  const shown = lines.slice(0, SHOWN).map((line) => `      ${kind}: ${line}`);
  const rest = lines.length - shown.length;
  return rest === 0 ? shown : [...shown, `      and ${counted(rest, `more ${kind}`)}`];
}
