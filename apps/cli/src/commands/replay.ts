import { EXIT, UsageError, type ExitCode } from '../exit-code.js';
import { faultText } from '../fault-text.js';
import { readJournal, writeJournal, type JournalFile } from '../journal/journal-file.js';
import { replay } from '../journal/replay.js';
import { spanText } from '../rehearse/report-text.js';
import { runRehearsal } from '../rehearse/run-rehearsal.js';
import type { AddCommand } from '../run-cli.js';
import { loadFiles, soundFiles } from '../session-files.js';
import type { Terminal } from '../terminal.js';
import { readText } from '../text-files.js';
import { programVersion } from '../version.js';

/** `blockbell replay`: the inputs of a journal again, and whether the same comes of them. */
export const addReplay: AddCommand = (program, terminal, done) => {
  program
    .command('replay')
    .description('Feed a journal to the engine and compare every effect, to the byte.')
    .argument('[journal]', 'from “blockbell rehearse --journal”; a rehearsal of the demo if none')
    .action(async (path: string | undefined) => done(await replayCommand(path, terminal)));
};

async function replayCommand(path: string | undefined, terminal: Terminal): Promise<ExitCode> {
  const text = path === undefined ? await demoJournal(terminal) : readText(path);
  const journal = readJournal(text);
  if ('line' in journal) {
    terminal.err(`${path ?? 'demo'}: line ${journal.line}: ${journal.text}`);
    return EXIT.fault;
  }
  const { heading } = journal;
  const sound = soundFiles(
    (['layout', 'stock', 'timetable'] as const).map((part) => ({
      name: `${part} in the journal`,
      text: JSON.stringify(heading[part]),
    })),
  );
  if (!sound.ok) {
    for (const fault of sound.faults) terminal.err(faultText(fault));
    return EXIT.fault;
  }
  return compare(journal, terminal);
}

function compare(journal: JournalFile, terminal: Terminal): ExitCode {
  const { name, program } = journal.heading;
  const outcome = replay(journal);
  if (outcome.same) {
    terminal.out(
      `${name}: ${outcome.inputs} inputs replayed, every effect the same.\nchain ${outcome.chain}`,
    );
    return EXIT.ok;
  }
  terminal.out(
    `${name}: the effects differ between input ${outcome.from} and input ${outcome.to}, ` +
      `${spanText(outcome.at)} after the session began.`,
  );
  if (program !== programVersion()) {
    terminal.err(
      `The journal is of version ${program}, this is ${programVersion()}; ` +
        'only the same version need do the same.',
    );
  }
  return EXIT.fault;
}

async function demoJournal(terminal: Terminal): Promise<string> {
  const loaded = loadFiles({});
  if (!loaded.ok) throw new UsageError('the demo has faults; see “blockbell check”');
  const { journal } = await runRehearsal(
    { files: loaded.files, seed: 1, faults: [], record: true },
    terminal,
  );
  return journal === null ? '' : writeJournal(journal);
}
