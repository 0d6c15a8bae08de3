import { EXAMPLE_NAMES, type ExampleName } from '@blockbell/examples';
import { checkTimetable } from '@blockbell/timetabling';
import { Option, type Command } from 'commander';
import { EXIT, type ExitCode } from '../exit-code.js';
import { faultText } from '../fault-text.js';
import type { AddCommand } from '../run-cli.js';
import type { Terminal } from '../terminal.js';
import { findingsSummary, findingsText } from '../timetable/findings-text.js';
import { readTimetableFiles } from '../timetable/read-files.js';

interface CheckOptions {
  readonly example?: ExampleName;
  readonly json?: boolean;
}

/** `blockbell timetable …`: work on timetables. */
export const addTimetable: AddCommand = (program, terminal, done) => {
  const timetable = program.command('timetable').description('Check and mend timetables.');
  withFiles(timetable.command('check'))
    .description('Find what trains can’t keep in a timetable, with what would mend it.')
    .option('--json', 'print the findings as JSON')
    .action((paths: readonly string[], options: CheckOptions) =>
      done(check(paths, options, terminal)),
    );
};

const withFiles = (command: Command): Command =>
  command
    .argument('[file...]', 'layout, stock and timetable; the demo when none is named')
    .addOption(
      new Option('--example <name>', 'an example in place of files').choices(EXAMPLE_NAMES),
    );

function check(
  paths: readonly string[],
  { example, json = false }: CheckOptions,
  terminal: Terminal,
): ExitCode {
  const read = readTimetableFiles(paths, example);
  const result = read.ok
    ? checkTimetable(read.files.layout, read.files.stock, read.files.timetable)
    : { faults: read.faults, findings: [] };
  const { faults, findings } = result;
  if (json) terminal.out(JSON.stringify(result, null, 2));
  else {
    for (const fault of faults) terminal.out(faultText(fault));
    if (findings.length > 0) terminal.out(findingsText(findings));
    if (faults.length === 0) terminal.err(findingsSummary(result));
  }
  const broken = faults.length > 0 || findings.some(({ weight }) => weight === 'breaks');
  return broken ? EXIT.fault : EXIT.ok;
}
