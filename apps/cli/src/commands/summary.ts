import { join } from 'node:path';
import { summariseSession, summaryTables, type SessionSummary } from '@blockbell/journal';
import { compileWorld, type Input } from '@blockbell/railway';
import type { Command } from 'commander';
import { EXIT, UsageError, type ExitCode } from '../exit-code.js';
import { faultText } from '../fault-text.js';
import { keptFiles, soundJournal } from '../journal/sound-journal.js';
import { StoredJournal } from '../journal/stored-journal.js';
import { readFaults, withFaultOptions, type FaultOptions } from '../rehearse/fault-options.js';
import { runRehearsal } from '../rehearse/run-rehearsal.js';
import type { AddCommand } from '../run-cli.js';
import {
  loadFiles,
  withFileOptions,
  type FileOptions,
  type SessionFiles,
} from '../session-files.js';
import { summaryText } from '../summary/summary-text.js';
import type { Terminal } from '../terminal.js';
import { makeFolder, readText, writeText } from '../text-files.js';
import { wholeNumber } from '../whole-number.js';

interface SummaryOptions extends FileOptions, FaultOptions {
  readonly data?: string;
  readonly session?: number;
  readonly seed: number;
  readonly out?: string;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

type SummarisedFiles = Pick<SessionFiles, 'layout' | 'stock' | 'timetable'>;

/** `blockbell summary`: how a session went, and how well its locomotives and detectors told who is where. */
export const addSummary: AddCommand = (program, terminal, done) => {
  const command: Command = withFileOptions(program.command('summary'))
    .description(
      'Say how a session went: services, delays with their causes, alarms, which decoders never answer, which detectors flicker.',
    )
    .argument('[journal]', 'from “blockbell rehearse --journal”; a rehearsal of the files if none')
    .option('--data <folder>', 'a session of this data folder of a server')
    .option('--session <number>', 'with --data: which; the newest if none', wholeNumber)
    .option('--seed <number>', 'chance of the simulated layout', wholeNumber, 1);
  withFaultOptions(command)
    .option('--out <folder>', 'write it as JSON and its tables as CSV there')
    .option('--json', 'print it as JSON')
    .option('--quiet', 'show no progress')
    .action(async (path: string | undefined, options: SummaryOptions) =>
      done(await summary(path, options, terminal)),
    );
};

async function summary(
  path: string | undefined,
  options: SummaryOptions,
  terminal: Terminal,
): Promise<ExitCode> {
  const told = await summaryOf(path, options, terminal);
  if (told === null) return EXIT.fault;
  if (options.out !== undefined) write(options.out, told);
  terminal.out(options.json === true ? JSON.stringify(told, null, 2) : summaryText(told));
  return EXIT.ok;
}

/** Null when the files have faults, which are told. */
async function summaryOf(
  path: string | undefined,
  options: SummaryOptions,
  terminal: Terminal,
): Promise<SessionSummary | null> {
  if (options.data !== undefined) return storedSummary(options.data, options.session, terminal);
  if (options.session !== undefined) throw new UsageError('--session belongs to --data');
  if (path !== undefined) {
    const journal = soundJournal(readText(path), path, terminal);
    if (journal === null) return null;
    return summarised(
      journal.heading,
      journal.batches.flatMap(({ inputs }) => inputs),
    );
  }
  const loaded = loadFiles(options);
  if (!loaded.ok) {
    for (const fault of loaded.faults) terminal.err(faultText(fault));
    return null;
  }
  const read = readFaults(options, loaded.files.compiled);
  if (!read.ok) {
    for (const line of read.lines) terminal.err(line);
    return null;
  }
  const { journal } = await runRehearsal(
    { files: loaded.files, seed: options.seed, faults: read.faults, record: true },
    options.quiet === true ? null : terminal,
  );
  return summarised(loaded.files, journal?.batches.flatMap(({ inputs }) => inputs) ?? []);
}

async function storedSummary(
  folder: string,
  number: number | undefined,
  terminal: Terminal,
): Promise<SessionSummary | null> {
  const journal = await StoredJournal.open(folder);
  try {
    const session = await journal.session(number ?? null);
    if (session === null) throw new UsageError(`there is no such session in ${folder}`);
    const files = keptFiles(session, `of session ${session.id}`, terminal);
    if (files === null) return null;
    const { inputs, torn } = await journal.inputs(session.id);
    if (torn !== null) terminal.err(torn);
    return summarised(files, inputs);
  } finally {
    await journal.close();
  }
}

const summarised = (
  { layout, stock, timetable }: SummarisedFiles,
  inputs: readonly Input[],
): SessionSummary => summariseSession(compileWorld(layout, stock, timetable), timetable, inputs);

function write(folder: string, told: SessionSummary): void {
  makeFolder(folder);
  writeText(join(folder, 'summary.json'), `${JSON.stringify(told, null, 2)}\n`);
  for (const [name, text] of Object.entries(summaryTables(told))) {
    writeText(join(folder, `${name}.csv`), text);
  }
}
