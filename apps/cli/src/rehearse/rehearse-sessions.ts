import { performance } from 'node:perf_hooks';
import { compileWorld } from '@blockbell/railway';
import {
  buildReport,
  commonStops,
  compareResults,
  comparedRows,
  isSameWay,
  rehearseMany,
  summaryRows,
  type RehearsalPlan,
  type RehearsalReport,
} from '@blockbell/rehearsals';
import { EXIT, UsageError, type ExitCode } from '../exit-code.js';
import { counted, faultText } from '../fault-text.js';
import { soundFiles, type SessionFiles } from '../session-files.js';
import type { Terminal } from '../terminal.js';
import { makeFolder, readText } from '../text-files.js';
import { disturbancesOf, rulesIn, type ManyOptions } from './many-options.js';
import { spanText } from './report-text.js';
import { writeReport } from './write-report.js';

/** More would tell little more, and their results are kept in memory until the end. */
const MOST_SESSIONS = 5000;
const MOST_WORKERS = 64;
const LAST_SEED = 4_294_967_295;

interface Asked extends ManyOptions {
  readonly sessions: number;
  readonly seed: number;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** Rehearses many sessions in worker threads and reports; Ctrl-C breaks off, and what was run until then is reported. */
export async function rehearseSessions(
  asked: Asked,
  files: SessionFiles,
  terminal: Terminal,
): Promise<ExitCode> {
  const { sessions, seed, workers, out } = asked;
  if (sessions === 0) throw new UsageError('--sessions must be at least 1');
  if (sessions > MOST_SESSIONS) throw new UsageError(`--sessions is at most ${MOST_SESSIONS}`);
  if (workers === 0) throw new UsageError('--workers must be at least 1');
  if (workers !== undefined && workers > MOST_WORKERS)
    throw new UsageError(`--workers is at most ${MOST_WORKERS}`);
  if (seed + sessions - 1 > LAST_SEED)
    throw new UsageError(`--seed and --sessions: the last seed is ${LAST_SEED}`);
  const plans = plansOf(asked, files);
  // Whether it can be written there is found out before the sessions are run, not after.
  if (out !== undefined) makeFolder(out);
  const breakOff = new AbortController();
  const interrupt = (): void => breakOff.abort();
  process.once('SIGINT', interrupt);
  const { results, failed } = await rehearseMany({
    plans,
    sessions,
    seed,
    ...(workers === undefined ? {} : { workers }),
    signal: breakOff.signal,
    tell: progressTeller(asked.quiet === true ? null : terminal),
  });
  process.off('SIGINT', interrupt);

  const worlds = plans.map((it) => compileWorld(it.layout, it.stock, it.timetable));
  const reports = plans.map((plan, index) =>
    buildReport(plan, worlds[index]!, results[index]!, sessions),
  );
  const [report, against] = reports as [RehearsalReport, RehearsalReport?];
  const comparison =
    against === undefined
      ? null
      : compareResults(results[0]!, results[1]!, commonStops(worlds[0]!, worlds[1]!));
  terminal.out(
    asked.json === true
      ? JSON.stringify({ report, against: against ?? null, comparison }, null, 2)
      : [
          ...reports.flatMap(reportLines),
          ...(comparison === null
            ? []
            : [
                `Second less first, over ${counted(comparison.pairs, 'seed')} (95 % interval)`,
                ...columns(comparedRows(comparison)),
              ]),
        ].join('\n'),
  );
  if (out !== undefined)
    writeReport(out, {
      layout: files.layout,
      report,
      against: against ?? null,
      comparison,
      results,
    });
  for (const { plan, seed: each, why } of failed)
    terminal.err(
      `Seed ${each}${plan === 0 ? '' : ' the second way'} could not be rehearsed: ${why}`,
    );
  if (breakOff.signal.aborted) terminal.err('Broken off before the end.');
  const isGood = reports.every(
    (it) => it.violations === 0 && it.ended === it.sessions && it.sessions === sessions,
  );
  return isGood ? EXIT.ok : EXIT.fault;
}

/** What is rehearsed: one way, or two to compare. */
function plansOf(
  asked: Asked,
  { layout, stock, timetable, compiled }: SessionFiles,
): RehearsalPlan[] {
  const disturbances = disturbancesOf(asked);
  const dispatching = asked.dispatching ?? 'plan';
  const rules = rulesIn(asked.rules, compiled);
  const first: RehearsalPlan = {
    layout,
    stock,
    timetable,
    disturbances,
    dispatching,
    ...(rules === undefined ? {} : { rules }),
    ...(asked.return === true ? { returns: true } : {}),
  };
  const { against, againstDispatching, againstRules } = asked;
  if (against === undefined && againstDispatching === undefined && againstRules === undefined) {
    return [first];
  }
  const otherRules = rulesIn(againstRules, compiled);
  const second = {
    ...first,
    dispatching: againstDispatching ?? dispatching,
    ...(against === undefined ? {} : { timetable: otherTimetable(against, first) }),
    ...(otherRules === undefined ? {} : { rules: otherRules }),
  };
  if (isSameWay(first, second))
    throw new UsageError(
      '--against…: the second way is the same as the first; name one that differs',
    );
  return [first, second];
}

/** A timetable of the same layout and stock. */
function otherTimetable(
  path: string,
  { layout, stock }: RehearsalPlan,
): RehearsalPlan['timetable'] {
  const loaded = soundFiles([
    { name: 'layout', text: JSON.stringify(layout) },
    { name: 'stock', text: JSON.stringify(stock) },
    { name: path, text: readText(path) },
  ]);
  if (loaded.ok) return loaded.files.timetable;
  throw new UsageError(loaded.faults.map(faultText).join('\n'));
}

/** Tells how many are done, how long the rest will take, and how much memory there is in use. */
function progressTeller(
  terminal: Terminal | null,
): (progress: { readonly done: number; readonly of: number }) => void {
  const began = performance.now();
  return ({ done, of }) => {
    const left = ((performance.now() - began) / done) * (of - done);
    const memory = Math.round(process.memoryUsage.rss() / 1_048_576);
    terminal?.progress(
      `${done} of ${counted(of, 'session')}, about ${spanText(left)} left, ${memory} MB in use`,
    );
    if (done === of) {
      terminal?.err(
        `Rehearsed ${counted(of, 'session')} in ${spanText(performance.now() - began)}.`,
      );
    }
  };
}

const reportLines = (report: RehearsalReport): string[] => [
  `${report.railway}, ${report.timetable}`,
  ...columns(summaryRows(report)),
  '',
];

function columns(rows: readonly (readonly string[])[]): string[] {
  const width = (column: number): number =>
    Math.max(...rows.map((row) => (row[column] ?? '').length));
  return rows.map((row) =>
    `  ${row
      .map((cell, column) => (column === row.length - 1 ? cell : cell.padEnd(width(column) + 2)))
      .join('')}`.trimEnd(),
  );
}
