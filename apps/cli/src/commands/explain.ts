import {
  fastTime,
  findSubject,
  formatClockText,
  type Subject,
  type World,
} from '@blockbell/railway';
import { EXIT, UsageError, type ExitCode } from '../exit-code.js';
import { beliefHistories, type BeliefHistory } from '../explain/belief-history.js';
import type { JournalFile } from '../journal/journal-file.js';
import { soundJournal } from '../journal/sound-journal.js';
import { spanText } from '../rehearse/report-text.js';
import { runRehearsal } from '../rehearse/run-rehearsal.js';
import type { AddCommand } from '../run-cli.js';
import { loadFiles, withFileOptions, type FileOptions } from '../session-files.js';
import { faultText } from '../fault-text.js';
import type { Terminal } from '../terminal.js';
import { readText } from '../text-files.js';
import { wholeNumber } from '../whole-number.js';

interface ExplainOptions extends FileOptions {
  readonly train?: string;
  readonly block?: string;
  readonly section?: string;
  readonly at?: number;
  readonly seed: number;
  readonly json?: boolean;
}

/** `blockbell explain`: what was believed of a train, a block or a section at a moment, how that came about, and why a train waited. */
export const addExplain: AddCommand = (program, terminal, done) => {
  withFileOptions(program.command('explain'))
    .description(
      'Say what is believed of trains and track at a moment, how that is known and came about, and why a train waits.',
    )
    .argument('[journal]', 'from “blockbell rehearse --journal”; a rehearsal of the files if none')
    .option('--train <name>', 'a train, by its id or label; all trains when nothing is named')
    .option('--block <id>', 'a block or another element of the track')
    .option('--section <id>', 'a detection section')
    .option(
      '--at <ms>',
      'the moment, physical ms since the session began; its end if none',
      wholeNumber,
    )
    .option('--seed <number>', 'chance of the simulated layout', wholeNumber, 1)
    .option('--json', 'print it as JSON')
    .action(async (path: string | undefined, options: ExplainOptions) =>
      done(await explain(path, options, terminal)),
    );
};

async function explain(
  path: string | undefined,
  options: ExplainOptions,
  terminal: Terminal,
): Promise<ExitCode> {
  const journal =
    path === undefined
      ? await rehearsed(options, terminal)
      : soundJournal(readText(path), path, terminal);
  if (journal === null) return EXIT.fault;
  const histories = beliefHistories(journal, (world) => asked(world, options), options.at ?? null);
  const all = [...histories.values()];
  terminal.out(
    options.json === true ? JSON.stringify(all, null, 2) : all.map(historyText).join('\n\n'),
  );
  return EXIT.ok;
}

async function rehearsed(options: ExplainOptions, terminal: Terminal): Promise<JournalFile | null> {
  const loaded = loadFiles(options);
  if (!loaded.ok) {
    for (const fault of loaded.faults) terminal.err(faultText(fault));
    return null;
  }
  const { files } = loaded;
  const { journal } = await runRehearsal(
    { files, seed: options.seed, faults: [], record: true },
    terminal,
  );
  return journal;
}

/** What the options name; all trains when they name nothing. */
function asked(world: World, { train, block, section }: ExplainOptions): readonly Subject[] {
  const named = (
    [
      ['train', train],
      ['element', block],
      ['section', section],
    ] as const
  ).flatMap(([kind, name]) => {
    if (name === undefined) return [];
    const found = findSubject(world, kind, name);
    if (found !== null) return [found];
    throw new UsageError(
      `there is no ${kind === 'element' ? 'block' : kind} ${name} in this session`,
    );
  });
  if (named.length > 0) return named;
  return world.stock.trains.map((_, index) => ({ kind: 'train', index }));
}

function historyText({ at, fast, now, wait, changes }: BeliefHistory): string {
  const clock = (time: number): string => formatClockText(fastTime(time));
  return [
    `At ${clock(fast)} (${spanText(at)} after the session began): ${now.belief}`,
    ...now.evidence.map((line) => `  ${line}`),
    ...(wait === null ? [] : [`Why it waits: ${wait.text}`]),
    'How it came about:',
    ...changes.map(
      (change) =>
        `  ${clock(change.fast)}  ${spanText(change.at)}  ${change.explanation.belief} ${change.explanation.evidence[0] ?? ''}`,
    ),
  ].join('\n');
}
