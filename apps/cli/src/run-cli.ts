import { Command, CommanderError } from 'commander';
import { addBench } from './commands/bench.js';
import { addCheck } from './commands/check.js';
import { addEndure } from './commands/endure.js';
import { addProve } from './commands/prove.js';
import { addExhaust } from './commands/exhaust.js';
import { addExplain } from './commands/explain.js';
import { addRehearse } from './commands/rehearse.js';
import { addReturn } from './commands/return.js';
import { addReplay } from './commands/replay.js';
import { addSummary } from './commands/summary.js';
import { addTimetable } from './commands/timetable.js';
import { addStaging } from './commands/staging.js';
import { addTrial } from './commands/trial.js';
import { EXIT, UsageError, type ExitCode } from './exit-code.js';
import type { Terminal } from './terminal.js';
import { programVersion } from './version.js';

/** Adds one command to the program; its action hands its exit code to `done`. */
export type AddCommand = (
  program: Command,
  terminal: Terminal,
  done: (code: ExitCode) => void,
) => void;

const COMMANDS: readonly AddCommand[] = [
  addCheck,
  addTimetable,
  addProve,
  addExhaust,
  addTrial,
  addStaging,
  addRehearse,
  addReturn,
  addEndure,
  addReplay,
  addExplain,
  addSummary,
  addBench,
];

const EXIT_CODES = `
Exit codes:
  0  all is well
  1  a fault in a file, a proof that fails, a violation, a service not run, a replay that differs,
     a target of the benchmarks missed
  2  called wrongly, or a file that can't be read`;

/** Runs the command line with the arguments after the program's name; answers with the exit code. */
export async function runCli(args: readonly string[], terminal: Terminal): Promise<ExitCode> {
  let exit: ExitCode = EXIT.ok;
  const program = new Command('blockbell')
    .description(
      'Runs, rehearses and measures operating sessions of a model railway, without a page.',
    )
    .version(programVersion())
    .exitOverride()
    .showHelpAfterError('Run “blockbell help” for what there is.')
    .addHelpText('after', EXIT_CODES)
    .configureOutput({
      writeOut: (text) => terminal.out(text.trimEnd()),
      writeErr: (text) => terminal.err(text.trimEnd()),
    });
  for (const add of COMMANDS) add(program, terminal, (code) => (exit = code));
  try {
    await program.parseAsync(args, { from: 'user' });
    return exit;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.ok : EXIT.usage;
    if (!(error instanceof UsageError)) throw error;
    terminal.err(`blockbell: ${error.message}`);
    return EXIT.usage;
  }
}
