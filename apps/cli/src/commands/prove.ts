import { setImmediate as breathe } from 'node:timers/promises';
import { EXAMPLE_NAMES, type ExampleName } from '@blockbell/examples';
import { proveLayout, type Layout, type ProofReport } from '@blockbell/railway';
import { Option } from 'commander';
import { EXIT, UsageError, type ExitCode } from '../exit-code.js';
import { faultText } from '../fault-text.js';
import { proofProgressText, proofText } from '../prove/proof-text.js';
import type { AddCommand } from '../run-cli.js';
import { exampleTexts } from '../session-files.js';
import type { Terminal } from '../terminal.js';
import { readText } from '../text-files.js';
import { checkFiles, type NamedText } from '@blockbell/contract';

interface ProveOptions {
  readonly example?: ExampleName;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** `blockbell prove`: the static proof of a layout's routes. */
export const addProve: AddCommand = (program, terminal, done) => {
  program
    .command('prove')
    .description('Prove of a layout that its routes lock one another out as they must.')
    .argument('[layout]', 'layout file; the demo’s when none is named')
    .addOption(
      new Option('--example <name>', 'an example in place of a file').choices(EXAMPLE_NAMES),
    )
    .option('--json', 'print the report as JSON')
    .option('--quiet', 'show no progress')
    .action(async (path: string | undefined, options: ProveOptions) =>
      done(await prove(path, options, terminal)),
    );
};

async function prove(
  path: string | undefined,
  { example, json = false, quiet = false }: ProveOptions,
  terminal: Terminal,
): Promise<ExitCode> {
  if (path !== undefined && example !== undefined) {
    throw new UsageError('name an example or a file, not both');
  }
  const { faults, layout } = checkFiles([layoutText(path, example)]);
  if (faults.length > 0) {
    for (const fault of faults) terminal.err(faultText(fault));
    return EXIT.fault;
  }
  if (layout === undefined) throw new UsageError('a proof needs a layout file');
  const report = await proved(layout, quiet ? null : terminal);
  terminal.out(json ? JSON.stringify(report, null, 2) : proofText(report));
  return report.proved ? EXIT.ok : EXIT.fault;
}

const layoutText = (path: string | undefined, example: ExampleName | undefined): NamedText =>
  path === undefined ? exampleTexts(example)[0]! : { name: path, text: readText(path) };

/** Runs the proof, and lets Ctrl-C through between its parts. */
async function proved(layout: Layout, terminal: Terminal | null): Promise<ProofReport> {
  const proof = proveLayout(layout.file, layout);
  for (let next = proof.next(); ; next = proof.next()) {
    if (next.done === true) return next.value;
    terminal?.progress(proofProgressText(next.value));
    await breathe();
  }
}
