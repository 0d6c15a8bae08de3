import { engineVersion, tornText } from '@blockbell/journal';
import { EXIT, UsageError, type ExitCode } from '../exit-code.js';
import { writeJournal, type JournalFile } from '../journal/journal-file.js';
import { replay } from '../journal/replay.js';
import { otherVersions, replayStored, type ReplayedRun } from '../journal/replay-stored.js';
import { keptFiles, soundJournal } from '../journal/sound-journal.js';
import { StoredJournal } from '../journal/stored-journal.js';
import { spanText } from '../rehearse/report-text.js';
import { runRehearsal } from '../rehearse/run-rehearsal.js';
import type { AddCommand } from '../run-cli.js';
import { loadFiles } from '../session-files.js';
import type { Terminal } from '../terminal.js';
import { readText } from '../text-files.js';
import { programVersion } from '../version.js';
import { wholeNumber } from '../whole-number.js';

/** `blockbell replay`: the inputs of a journal again, and whether the same comes of them. */
export const addReplay: AddCommand = (program, terminal, done) => {
  program
    .command('replay')
    .description('Feed a journal to the engine and compare every effect, to the byte.')
    .argument('[journal]', 'from “blockbell rehearse --journal”; a rehearsal of the demo if none')
    .option('--data <folder>', 'a server’s data folder: run one of its stored sessions again')
    .option('--session <number>', 'which of them; the newest if none', wholeNumber)
    .action(async (path: string | undefined, { data, session }: ReplayOptions) => {
      if (data === undefined && session !== undefined)
        throw new UsageError('name the data folder of the session with --data');
      if (data === undefined) return done(await replayCommand(path, terminal));
      if (path !== undefined) throw new UsageError('name a journal or a data folder, not both');
      done(await replaySession(data, session ?? null, terminal));
    });
};

interface ReplayOptions {
  readonly data?: string;
  readonly session?: number;
}

/** A session of a server's database, across all its restarts. */
async function replaySession(
  folder: string,
  number: number | null,
  terminal: Terminal,
): Promise<ExitCode> {
  const journal = await StoredJournal.open(folder);
  try {
    const session = await journal.session(number);
    if (session === null) {
      const which = number === null ? 'session in which anything happened' : `session ${number}`;
      throw new UsageError(`there is no ${which} in ${folder}`);
    }
    const files = keptFiles(session, `of session ${session.id}`, terminal);
    if (files === null) return EXIT.fault;
    terminal.out(
      `Session ${session.id}, ${session.name}, of ${session.createdAt}: ${session.ending ?? 'not ended'}`,
    );
    const runs: ReplayedRun[] = [];
    for await (const run of replayStored(journal, session.id, files)) {
      runs.push(run);
      terminal.out(runText(run));
    }
    for (const version of otherVersions(runs)) {
      terminal.err(
        `Engine version ${version} kept this, and this is ${engineVersion()}; only the same version need do the same.`,
      );
    }
    const isSame = runs.every(
      ({ differs, tornAfter, sameEnd }) =>
        differs === null && tornAfter === null && sameEnd !== false,
    );
    return isSame ? EXIT.ok : EXIT.fault;
  } finally {
    await journal.close();
  }
}

function runText(replayed: ReplayedRun): string {
  const { run, inputs, batches, leftOut, differs, tornAfter, sameEnd, digest } = replayed;
  const name = `Run ${run}`;
  if (differs !== null) return `${name}: the effects of batch ${differs} differ from those stored.`;
  if (tornAfter !== null)
    return `${name}: ${inputs} inputs in ${batches} batches replayed, every effect the same. ${tornText(run, tornAfter)}`;
  const cut = leftOut > 0 ? ` ${leftOut} batches at its end were left out by the next run.` : '';
  const end = {
    true: `ends in the stored state ${digest}`,
    false: `ends in another state than the stored one: ${digest}`,
    null: `no end was stored; state ${digest}`,
  }[`${sameEnd}`];
  return `${name}: ${inputs} inputs in ${batches} batches replayed, every effect the same; ${end}.${cut}`;
}

async function replayCommand(path: string | undefined, terminal: Terminal): Promise<ExitCode> {
  const text = path === undefined ? await demoJournal(terminal) : readText(path);
  const journal = soundJournal(text, path ?? 'demo', terminal);
  return journal === null ? EXIT.fault : compare(journal, terminal);
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
