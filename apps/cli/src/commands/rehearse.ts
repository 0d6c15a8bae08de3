import { EXIT, UsageError, type ExitCode } from '../exit-code.js';
import { faultText } from '../fault-text.js';
import { writeJournal } from '../journal/journal-file.js';
import { readFaults, withFaultOptions, type FaultOptions } from '../rehearse/fault-options.js';
import { refuseManyOptions, withManyOptions, type ManyOptions } from '../rehearse/many-options.js';
import { rehearseSessions } from '../rehearse/rehearse-sessions.js';
import { reportText } from '../rehearse/report-text.js';
import { runRehearsal } from '../rehearse/run-rehearsal.js';
import type { AddCommand } from '../run-cli.js';
import { loadFiles, withFileOptions, type FileOptions } from '../session-files.js';
import type { Terminal } from '../terminal.js';
import { writeText } from '../text-files.js';
import { wholeNumber } from '../whole-number.js';

interface RehearseOptions extends FileOptions, FaultOptions, ManyOptions {
  readonly seed: number;
  readonly journal?: string;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** `blockbell rehearse`: a whole session headless, or many, safety checked after every step. */
export const addRehearse: AddCommand = (program, terminal, done) => {
  const command = withFileOptions(program.command('rehearse'))
    .description('Run a whole session in simulation and report what happened in it.')
    .option(
      '--seed <number>',
      'chance of the simulated layout; of many, the first',
      wholeNumber,
      1,
    );
  withManyOptions(withFaultOptions(command))
    .option('--journal <file>', 'write down every input, for “blockbell replay”')
    .option('--json', 'print the report as JSON')
    .option('--quiet', 'show no progress')
    .action(async (options: RehearseOptions) => done(await rehearse(options, terminal)));
};

async function rehearse(options: RehearseOptions, terminal: Terminal): Promise<ExitCode> {
  const loaded = loadFiles(options);
  if (!loaded.ok) return refuse(terminal, loaded.faults.map(faultText));
  const { files } = loaded;
  const { sessions } = options;
  if (sessions !== undefined) {
    if (options.journal !== undefined || options.faults !== undefined || options.fault.length > 0) {
      throw new UsageError(
        '--journal, --faults and --fault belong to one session: leave out --sessions',
      );
    }
    return rehearseSessions({ ...options, sessions }, files, terminal);
  }
  refuseManyOptions(options);
  const read = readFaults(options, files.compiled);
  if (!read.ok) return refuse(terminal, read.lines);
  const { report, journal } = await runRehearsal(
    { files, seed: options.seed, faults: read.faults, record: options.journal !== undefined },
    options.quiet === true ? null : terminal,
  );
  if (options.journal !== undefined && journal !== null) {
    writeText(options.journal, writeJournal(journal));
  }
  terminal.out(options.json === true ? JSON.stringify(report, null, 2) : reportText(files, report));
  const { ended, services, violations } = report;
  const isGood = ended && services.notRun.length === 0 && violations.broken.length === 0;
  return isGood ? EXIT.ok : EXIT.fault;
}

function refuse(terminal: Terminal, lines: readonly string[]): ExitCode {
  for (const line of lines) terminal.err(line);
  return EXIT.fault;
}
