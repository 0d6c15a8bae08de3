import { availableParallelism } from 'node:os';
import { performance } from 'node:perf_hooks';
import { readScriptedFaults } from '@blockbell/contract';
import { compileLayout, compileStock } from '@blockbell/railway';
import {
  endureCase,
  endureSession,
  FAULT_LEVELS,
  scorecardRequests,
  summarise,
  type FaultLevel,
  type RailwayFiles,
  type SessionOutcome,
  type SessionRequest,
} from '@blockbell/rehearsal';
import { Option } from 'commander';
import { reportMarkdown, reportText } from '../bench/print-report.js';
import { isMet, type Report } from '../bench/report.js';
import { demoSubject } from '../bench/subjects.js';
import { endureReports, notRunLines } from '../endure/endure-report.js';
import { runSessions } from '../endure/run-sessions.js';
import { scorecardReport } from '../endure/scorecard-report.js';
import { shortestReplay, type Replay } from '../endure/shortest-replay.js';
import { EXIT, UsageError, type ExitCode } from '../exit-code.js';
import { counted, faultText } from '../fault-text.js';
import { faultFromOption, type WrittenFault } from '../rehearse/fault-option.js';
import { spanText } from '../rehearse/report-text.js';
import type { AddCommand } from '../run-cli.js';
import type { Terminal } from '../terminal.js';
import { wholeNumber } from '../whole-number.js';

interface EndureOptions {
  readonly sessions: number;
  readonly seed: number;
  readonly faults: FaultLevel | 'mixed';
  readonly workers: number;
  readonly session?: number;
  readonly silent?: number;
  readonly people?: boolean;
  readonly fault: readonly WrittenFault[];
  readonly scorecard?: boolean;
  readonly json?: boolean;
  readonly markdown?: boolean;
  readonly quiet?: boolean;
}

/** Failures shortened at most; the others are named. */
const SHORTENED = 3;

/** `blockbell endure`: many whole sessions with faults, on the demo and on generated railways, each checked after every step. */
export const addEndure: AddCommand = (program, terminal, done) => {
  program
    .command('endure')
    .description('Run many whole sessions with faults and check each after every step.')
    .option(
      '--sessions <number>',
      'how many; a scorecard runs each sixteen times',
      wholeNumber,
      100,
    )
    .option('--seed <number>', 'chance of railways, sessions and faults', wholeNumber, 1)
    .addOption(
      new Option('--faults <level>', 'how often things go wrong')
        .choices([...FAULT_LEVELS, 'mixed'])
        .default('mixed'),
    )
    .option('--workers <number>', 'sessions run at once', wholeNumber, availableParallelism())
    .option('--session <number>', 'only this one of them', wholeNumber)
    .option('--silent <percent>', 'decoders that never answer', wholeNumber)
    .option('--people', 'people close track and drive by hand, and the program is killed meanwhile')
    .option(
      '--fault <kind@ms:field=value,…>',
      'with --session: this in place of drawn faults; as often as wanted',
      (text, before: readonly WrittenFault[]) => [...before, faultFromOption(text)],
      [],
    )
    .option('--scorecard', 'how well trains are known, by faults and by silent decoders')
    .option('--json', 'print everything about every session as JSON')
    .option('--markdown', 'print the tables as docs/figures.md holds them')
    .option('--quiet', 'show no progress')
    .action(async (options: EndureOptions) => done(await endure(options, terminal)));
};

async function endure(options: EndureOptions, terminal: Terminal): Promise<ExitCode> {
  const { seed: _, ...demo } = demoSubject();
  const requests = requestsOf(options);
  const outcomes =
    options.fault.length > 0
      ? [scripted(options, requests[0]!, demo)]
      : await run(options, requests, demo, options.quiet === true ? null : terminal);
  const failed = outcomes.filter(({ failure }) => failure !== null);
  const replays = new Map(
    failed.slice(0, SHORTENED).map((outcome) => {
      if (options.quiet !== true) terminal.err(`Shortening session ${outcome.request.number} …`);
      return [outcome, shortestReplay(outcome, demo)];
    }),
  );
  const reports =
    options.scorecard === true ? [scorecardReport(outcomes)] : endureReports(summarise(outcomes));
  terminal.out(
    options.json === true
      ? JSON.stringify({ reports, replays: [...replays.values()], outcomes }, null, 2)
      : [
          ...reports.map((report) => printed(report, options)),
          ...notRunLines(outcomes),
          ...failed.flatMap((outcome) => failureLines(outcome, replays.get(outcome))),
        ].join(options.markdown === true ? '\n\n' : '\n'),
  );
  const isGood = reports.every(({ figures }) => figures.every(isMet)) && failed.length === 0;
  return isGood ? EXIT.ok : EXIT.fault;
}

function requestsOf(options: EndureOptions): SessionRequest[] {
  const { sessions, seed, session, silent, people, fault, faults: level, scorecard } = options;
  const isFixed = session !== undefined || silent !== undefined || people === true;
  if (fault.length > 0 && session === undefined) {
    throw new UsageError('--fault belongs to one session: name it with --session');
  }
  if (options.workers === 0) throw new UsageError('--workers must be at least 1');
  if (silent !== undefined && silent > 100) throw new UsageError('--silent is at most 100 percent');
  if (scorecard === true && (isFixed || level !== 'mixed')) {
    throw new UsageError(
      '--scorecard runs its own sessions at every level: leave out --session, --silent, --people and --faults',
    );
  }
  if (scorecard === true) return scorecardRequests(seed, sessions);
  const request = (number: number): SessionRequest => ({
    seed,
    number,
    level,
    silent: silent ?? null,
    ...(people === true ? { people } : {}),
  });
  if (session !== undefined) return [request(session)];
  return Array.from({ length: sessions }, (_, number) => request(number));
}

/** One session with the faults that were written down for it. */
function scripted(
  { fault }: EndureOptions,
  request: SessionRequest,
  demo: RailwayFiles,
): SessionOutcome {
  const { layout, stock } = endureCase(request, demo);
  const text = JSON.stringify({ kind: 'blockbell-faults', version: 1, faults: fault });
  const read = readScriptedFaults(text, compileLayout(layout), compileStock(stock));
  if (read.ok) return endureSession(request, demo, read.faults);
  throw new UsageError(read.wrong.map((it) => faultText({ ...it, file: '--fault' })).join('\n'));
}

/** Runs them all, or those that are done when Ctrl-C is pressed. */
async function run(
  { workers }: EndureOptions,
  requests: readonly SessionRequest[],
  demo: RailwayFiles,
  terminal: Terminal | null,
): Promise<SessionOutcome[]> {
  const began = performance.now();
  const breakOff = new AbortController();
  const interrupt = (): void => breakOff.abort();
  process.once('SIGINT', interrupt);
  let finished = 0;
  let failed = 0;
  const outcomes = await runSessions({
    requests,
    demo,
    workers,
    signal: breakOff.signal,
    tell: ({ failure }) => {
      finished++;
      if (failure !== null) failed++;
      const left = ((performance.now() - began) / finished) * (requests.length - finished);
      terminal?.progress(
        `${finished} of ${counted(requests.length, 'session')}, ${failed} failed, about ${spanText(left)} left`,
      );
    },
  });
  process.off('SIGINT', interrupt);
  const took = spanText(performance.now() - began);
  const all = outcomes.length === requests.length ? '' : ` of ${requests.length}, broken off`;
  terminal?.err(`Ran ${counted(outcomes.length, 'session')}${all}, in ${took}.`);
  return outcomes;
}

function printed(report: Report, options: EndureOptions): string {
  if (options.markdown !== true) return `${reportText(report)}\n`;
  return reportMarkdown(report, `npm run endure -- ${given(options)}`);
}

/** What was asked for, as far as it makes a difference to what comes out. */
const given = ({
  sessions,
  seed,
  faults,
  session,
  silent,
  people,
  scorecard,
}: EndureOptions): string =>
  [
    `--sessions ${sessions}`,
    `--seed ${seed}`,
    ...(faults === 'mixed' ? [] : [`--faults ${faults}`]),
    ...(session === undefined ? [] : [`--session ${session}`]),
    ...(silent === undefined ? [] : [`--silent ${silent}`]),
    ...(people === true ? ['--people'] : []),
    ...(scorecard === true ? ['--scorecard'] : []),
  ].join(' ');

function failureLines(
  { request, failure, railway, level }: SessionOutcome,
  replay: Replay | undefined,
): string[] {
  const { what, text, step, at } = failure!;
  const rule = typeof what === 'number' ? `invariant ${what} broken` : what;
  const head =
    `FAILED: session ${request.number} with seed ${request.seed} (${railway}, faults: ${level}), ` +
    `step ${step}, after ${spanText(at)}: ${rule}: ${text}`;
  if (replay === undefined) return [head];
  const { faults, command, failure: shortest } = replay;
  return [
    head,
    `  shortest replay, ${faults.left} of ${counted(faults.before, 'fault')}, fails at step ${shortest.step}:`,
    `  ${command}`,
  ];
}
