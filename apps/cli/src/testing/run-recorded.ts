import type { ExitCode } from '../exit-code.js';
import { runCli } from '../run-cli.js';

export interface RecordedRun {
  readonly exit: ExitCode;
  readonly out: string;
  readonly err: string;
}

/** Runs the command line and keeps what it wrote. */
export async function runRecorded(...args: readonly string[]): Promise<RecordedRun> {
  const out: string[] = [];
  const err: string[] = [];
  const exit = await runCli(args, {
    out: (text) => out.push(text),
    err: (text) => err.push(text),
    progress: () => {},
  });
  return { exit, out: out.join('\n'), err: err.join('\n') };
}
