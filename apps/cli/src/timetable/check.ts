import { checkTimetable, withoutTrainWords } from '@blockbell/timetabling';
import { EXIT, type ExitCode } from '../exit-code.js';
import { faultText } from '../fault-text.js';
import type { Terminal } from '../terminal.js';
import { findingsSummary, findingsText } from './findings-text.js';
import { readTimetableFiles, type NamedFiles } from './read-files.js';

export interface CheckOptions extends NamedFiles {
  readonly json?: boolean;
}

/** What trains can't keep in a timetable. */
export function check({ json = false, ...named }: CheckOptions, terminal: Terminal): ExitCode {
  const read = readTimetableFiles(named);
  const result = read.ok
    ? checkTimetable(read.files.layout, read.files.stock, read.files.timetable)
    : { faults: read.faults, findings: [] };
  const { faults, findings } = result;
  if (json) terminal.out(JSON.stringify(result, null, 2));
  else {
    for (const fault of faults) terminal.out(faultText(fault));
    if (findings.length > 0) terminal.out(findingsText(findings));
    if (faults.length === 0) terminal.err(findingsSummary(result));
    const leftOut = read.ok ? withoutTrainWords(read.files.timetable) : null;
    if (leftOut !== null) terminal.err(leftOut);
  }
  const broken = faults.length > 0 || findings.some(({ weight }) => weight === 'breaks');
  return broken ? EXIT.fault : EXIT.ok;
}
