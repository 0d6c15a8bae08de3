import { setImmediate as breathe } from 'node:timers/promises';
import { checkFiles, keptTrialReport, type KeptTrialReport } from '@blockbell/contract';
import { EXAMPLE_NAMES, type ExampleName } from '@blockbell/examples';
import type { Layout, Stock } from '@blockbell/railway';
import {
  compareTrials,
  runTrial,
  unknownIn,
  type TrialReport,
  type TrialSetup,
} from '@blockbell/rehearsal';
import { Option } from 'commander';
import { EXIT, UsageError, type ExitCode } from '../exit-code.js';
import { faultText } from '../fault-text.js';
import { readFaults, withFaultOptions, type FaultOptions } from '../rehearse/fault-options.js';
import type { AddCommand } from '../run-cli.js';
import { exampleTexts } from '../session-files.js';
import type { Terminal } from '../terminal.js';
import { readText, writeText } from '../text-files.js';
import { trialPage } from '../trial/trial-page.js';
import { comparisonText, routeList, trialProgressText, trialText } from '../trial/trial-text.js';
import { wholeNumber } from '../whole-number.js';

interface TrialOptions extends FaultOptions {
  readonly example?: ExampleName;
  readonly route: readonly string[];
  readonly train?: string;
  readonly seed: number;
  readonly list?: boolean;
  readonly page?: string;
  readonly against?: string;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** `blockbell trial`: every route of a layout, run over in simulation. */
export const addTrial: AddCommand = (program, terminal, done) => {
  const command = program
    .command('trial')
    .description('Run a train over every route of a layout in simulation.')
    .argument('[files...]', 'a layout file and a stock file; the demo’s when none is named')
    .addOption(
      new Option('--example <name>', 'an example in place of files').choices(EXAMPLE_NAMES),
    )
    .option(
      '--route <id>',
      'only this route; as often as wanted',
      (id: string, before: readonly string[]) => [...before, id],
      [],
    )
    .option('--train <id>', 'only this train; the longest that a route has room for if left out')
    .option('--seed <number>', 'chance of the simulated layout', wholeNumber, 1)
    .option('--list', 'print the ids and names of all routes and run none')
    .option('--page <file>', 'write the report as a page to be printed')
    .option('--against <report>', 'compare with an earlier report, saved as JSON');
  withFaultOptions(command)
    .option('--json', 'print the report as JSON')
    .option('--quiet', 'show no progress')
    .action(async (paths: readonly string[], options: TrialOptions) =>
      done(await trial(paths, options, terminal)),
    );
};

async function trial(
  paths: readonly string[],
  options: TrialOptions,
  terminal: Terminal,
): Promise<ExitCode> {
  const files = read(paths, options.example);
  if ('lines' in files) return refuse(terminal, files.lines);
  const { layout, stock } = files;
  if (options.list === true) {
    for (const line of routeList(layout)) terminal.out(line);
    return EXIT.ok;
  }
  const before = options.against === undefined ? null : readReport(options.against);
  const faults = readFaults(options, files);
  if (!faults.ok) return refuse(terminal, faults.lines);
  const setup: TrialSetup = {
    layout: layout.file,
    stock: stock.file,
    seed: options.seed,
    faults: faults.faults,
    ...(options.route.length === 0 ? {} : { routes: options.route }),
    ...(options.train === undefined ? {} : { train: options.train }),
  };
  const unknown = unknownIn(setup);
  if (unknown !== null)
    throw new UsageError(`${unknown} “blockbell trial --list” lists the routes.`);
  const report = await tried(setup, options.quiet === true ? null : terminal);
  if (options.page !== undefined) writeText(options.page, trialPage(report));
  const known = new Set(layout.routes.map(({ id }) => id));
  const against = before === null ? null : compareTrials(report, before, known);
  if (options.json === true) {
    terminal.out(JSON.stringify(against === null ? report : { ...report, against }, null, 2));
  } else {
    terminal.out(trialText(report));
    if (against !== null) terminal.out(comparisonText(against, report.layout.hash));
  }
  return report.failed === 0 && report.whole ? EXIT.ok : EXIT.fault;
}

/** A report that was kept: of `--json`, or saved on the board. */
function readReport(path: string): KeptTrialReport {
  try {
    return keptTrialReport.parse(JSON.parse(readText(path)));
  } catch (error) {
    if (error instanceof UsageError) throw error;
    throw new UsageError(
      `${path} is no report of a route trial: give one that “blockbell trial --json” printed, or that was saved on the board`,
    );
  }
}

type ReadFiles =
  { readonly layout: Layout; readonly stock: Stock } | { readonly lines: readonly string[] };

function read(paths: readonly string[], example: ExampleName | undefined): ReadFiles {
  if (paths.length > 0 && example !== undefined) {
    throw new UsageError('name an example or files, not both');
  }
  const texts =
    paths.length > 0
      ? paths.map((path) => ({ name: path, text: readText(path) }))
      : exampleTexts(example).slice(0, 2);
  const { faults, layout, stock } = checkFiles(texts);
  if (faults.length > 0) return { lines: faults.map(faultText) };
  if (layout === undefined || stock === undefined) {
    throw new UsageError('a route trial needs one layout file and one stock file');
  }
  return { layout, stock };
}

/** Runs the trial; an interrupt (Ctrl-C) breaks it off after the route that is being tried. */
async function tried(setup: TrialSetup, terminal: Terminal | null): Promise<TrialReport> {
  let interrupted = false;
  const interrupt = (): void => {
    interrupted = true;
  };
  process.once('SIGINT', interrupt);
  const session = runTrial(setup);
  let next = session.next();
  for (; next.done !== true; next = session.next(interrupted)) {
    terminal?.progress(trialProgressText(next.value));
    await breathe();
  }
  process.off('SIGINT', interrupt);
  return next.value;
}

function refuse(terminal: Terminal, lines: readonly string[]): ExitCode {
  for (const line of lines) terminal.err(line);
  return EXIT.fault;
}
