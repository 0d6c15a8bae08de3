import { readScriptedFaults, type NamedText } from '@blockbell/contract';
import type { Fault } from '@blockbell/simulation';
import { EXIT, type ExitCode } from '../exit-code.js';
import { faultText } from '../fault-text.js';
import { writeJournal } from '../journal/journal-file.js';
import { faultFromOption, type WrittenFault } from '../rehearse/fault-option.js';
import { reportText } from '../rehearse/report-text.js';
import { runRehearsal } from '../rehearse/run-rehearsal.js';
import type { AddCommand } from '../run-cli.js';
import { loadFiles, withFileOptions, type FileOptions } from '../session-files.js';
import type { Terminal } from '../terminal.js';
import { readText, writeText } from '../text-files.js';
import { wholeNumber } from '../whole-number.js';

interface RehearseOptions extends FileOptions {
  readonly seed: number;
  readonly faults?: string;
  readonly fault: readonly WrittenFault[];
  readonly journal?: string;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** `blockbell rehearse`: a whole session headless, its safety checked after every step. */
export const addRehearse: AddCommand = (program, terminal, done) => {
  withFileOptions(program.command('rehearse'))
    .description('Run a whole session in simulation and report what happened in it.')
    .option('--seed <number>', 'chance of the simulated layout', wholeNumber, 1)
    .option('--faults <file>', 'scripted faults of the simulated layout')
    .option(
      '--fault <kind@ms:field=value,…>',
      'one scripted fault; as often as wanted',
      (text, before: readonly WrittenFault[]) => [...before, faultFromOption(text)],
      [],
    )
    .option('--journal <file>', 'write down every input, for “blockbell replay”')
    .option('--json', 'print the report as JSON')
    .option('--quiet', 'show no progress')
    .action(async (options: RehearseOptions) => done(await rehearse(options, terminal)));
};

async function rehearse(options: RehearseOptions, terminal: Terminal): Promise<ExitCode> {
  const loaded = loadFiles(options);
  if (!loaded.ok) return refuse(terminal, loaded.faults.map(faultText));
  const { files } = loaded;
  const faults: Fault[] = [];
  for (const { name, text } of faultTexts(options)) {
    const { layout, stock } = files.compiled;
    const read = readScriptedFaults(text, layout, stock);
    if (!read.ok) {
      return refuse(
        terminal,
        read.wrong.map((it) => faultText({ ...it, file: name })),
      );
    }
    faults.push(...read.faults);
  }
  const { report, journal } = await runRehearsal(
    { files, seed: options.seed, faults, record: options.journal !== undefined },
    options.quiet === true ? null : terminal,
  );
  if (options.journal !== undefined && journal !== null) {
    writeText(options.journal, writeJournal(journal));
  }
  terminal.out(
    options.json === true ? JSON.stringify(report, null, 2) : reportText(files.layout, report),
  );
  const { ended, services, violations } = report;
  const isGood = ended && services.notRun.length === 0 && violations.broken.length === 0;
  return isGood ? EXIT.ok : EXIT.fault;
}

/** The file of faults and those given one by one, as files. */
function faultTexts({ faults: path, fault }: RehearseOptions): NamedText[] {
  const file = path === undefined ? [] : [{ name: path, text: readText(path) }];
  const written = JSON.stringify({ kind: 'blockbell-faults', version: 1, faults: fault });
  return fault.length === 0 ? file : [...file, { name: '--fault', text: written }];
}

function refuse(terminal: Terminal, lines: readonly string[]): ExitCode {
  for (const line of lines) terminal.err(line);
  return EXIT.fault;
}
