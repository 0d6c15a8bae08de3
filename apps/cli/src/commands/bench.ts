import { BENCHMARK_NAMES } from '../bench/benchmark-names.js';
import { machineText } from '../bench/machine.js';
import { reportMarkdown, reportText } from '../bench/print-report.js';
import { isMet, type Benchmark, type Report } from '../bench/report.js';
import { EXIT, UsageError, type ExitCode } from '../exit-code.js';
import type { AddCommand } from '../run-cli.js';
import type { Terminal } from '../terminal.js';

interface BenchOptions {
  readonly quick?: boolean;
  readonly json?: boolean;
  readonly markdown?: boolean;
  /** False after --no-gate. */
  readonly gate: boolean;
}

/** `blockbell bench`: what the engine and the server cost on this machine, beside what must be reached. */
export const addBench: AddCommand = (program, terminal, done) => {
  program
    .command('bench')
    .description('Measure the program on this machine, each figure beside its target.')
    .argument('[name...]', `${BENCHMARK_NAMES.join(', ')}; all when none is named`)
    .option('--quick', 'shorter runs, for a look')
    .option('--json', 'print the figures as JSON')
    .option('--markdown', 'print the figures as docs/figures.md holds them')
    .option('--no-gate', 'exit with 0 even when a target is missed')
    .action(async (names: readonly string[], options: BenchOptions) => {
      const reports = await measure(await chosen(names), options, terminal);
      terminal.out(printed(reports, options));
      done(options.gate ? gate(reports) : EXIT.ok);
    });
};

/** The benchmarks named. They bring the whole server with them, so that no other command waits for it. */
async function chosen(names: readonly string[]): Promise<readonly Benchmark[]> {
  const unknown = names.filter((name) => !BENCHMARK_NAMES.some((known) => known === name));
  if (unknown.length > 0)
    throw new UsageError(
      `there is no benchmark ${unknown.join(', ')}; there are ${BENCHMARK_NAMES.join(', ')}`,
    );
  const { BENCHMARKS } = await import('../bench/all-benchmarks.js');
  return BENCHMARKS.filter(({ name }) => names.length === 0 || names.includes(name));
}

async function measure(
  benchmarks: readonly Benchmark[],
  { quick = false }: BenchOptions,
  terminal: Terminal,
): Promise<readonly Report[]> {
  const reports: Report[] = [];
  for (const benchmark of benchmarks) {
    const tell = (text: string): void => terminal.progress(`measuring ${text} …`);
    reports.push(await benchmark.measure({ quick, tell }));
  }
  return reports;
}

/** Fails when a target is missed. */
export const gate = (reports: readonly Report[]): ExitCode =>
  reports.every(({ figures }) => figures.every(isMet)) ? EXIT.ok : EXIT.fault;

function printed(reports: readonly Report[], { json, markdown }: BenchOptions): string {
  if (json === true) return JSON.stringify({ machine: machineText(), reports }, null, 2);
  if (markdown !== true) return [machineText(), ...reports.map(reportText)].join('\n\n');
  const day = new Date().toISOString().slice(0, 10);
  return [
    `Measured on ${day}: ${machineText()}.`,
    ...reports.map((report) => reportMarkdown(report)),
  ].join('\n\n');
}
