import {
  fastTime,
  formatClockText,
  type DelayFigures,
  type KnockOn,
  type LayoutFile,
  type StockFile,
} from '@blockbell/railway';
import type { SessionProgress, SessionReport, Use } from '@blockbell/rehearsal';
import { counted } from '../fault-text.js';

/** Physical ms as `38 min 47 s`. */
export function spanText(ms: number): string {
  const seconds = Math.round(ms / 1000);
  const minutes = Math.floor(seconds / 60);
  return minutes === 0 ? `${seconds} s` : `${minutes} min ${seconds % 60} s`;
}

const clockText = (fast: number): string => formatClockText(fastTime(fast)).slice(0, 5);

/** One line that tells how far a rehearsal has come; `elapsed` is wall-clock ms. */
export const progressText = (
  { now, fast, services, violations }: SessionProgress,
  elapsed: number,
): string =>
  `${clockText(fast)}  ${services.run} of ${services.planned} services run` +
  `${violations > 0 ? `, ${counted(violations, 'violation')}` : ''}  ` +
  `(${multiple(now, elapsed)} times real time)`;

/** How many times faster than real time. */
export const multiple = (simulated: number, elapsed: number): number =>
  Math.round(simulated / Math.max(1, elapsed));

/** What a report's numbers and names mean. */
type Named = Readonly<{ layout: LayoutFile; stock: StockFile }>;

/** A report as a dispatcher reads it. */
export function reportText({ layout, stock }: Named, report: SessionReport): string {
  const rows: [string, string][] = [
    ['Session', sessionText(report)],
    ['Services', `${report.services.run} of ${report.services.planned} run`],
    ['Arrivals', arrivalsText(report)],
    ...delayRows(report.delays, stock),
    ['Safety', safetyText(report)],
    ...figureRows(report),
    ['End state', report.digest],
  ];
  const table = rows.map(([name, text]) => `  ${name.padEnd(12)}${text}`);
  return [`${layout.name}, seed ${report.seed}`, ...table, ...troubleLines(report)].join('\n');
}

const sessionText = ({ ended, fast, duration }: SessionReport): string =>
  ended
    ? `ended at ${clockText(fast)}, after ${spanText(duration)} of running`
    : `broken off at ${clockText(fast)}, after ${spanText(duration)} of running`;

function arrivalsText({ punctuality: { arrivals, onTime, greatest } }: SessionReport): string {
  const latest = greatest > 0 ? `, the latest by ${minutesText(greatest)}` : '';
  return `${onTime} of ${arrivals} not more than a minute late${latest}`;
}

/** How many of the longest are told. */
const TOLD = 5;

function delayRows(delays: DelayFigures, { trains }: StockFile): [string, string][] {
  const { arrivals, within3, within5, entry, own, knockOn, recovered, late } = delays;
  const [all, brought, its, others, made] = [late, entry, own, knockOn, recovered].map(inMinutes);
  const listed = <Of>(sums: readonly KnockOn<Of>[], name: (of: Of) => string): string =>
    sums.length === 0
      ? 'none'
      : sums
          .slice(0, TOLD)
          .map(({ of, time }) => `${name(of)}: ${inMinutes(time)} min`)
          .join(', ');
  return [
    ['Punctual', `${within3} of ${arrivals} within 3 min, ${within5} within 5 min`],
    [
      'Delay',
      `${all} = ${brought} brought + ${its} own + ${others} waiting for others − ${made} made up, fast-clock min`,
    ],
    ['Waited on', listed(delays.byTrain, (train) => trains[train]!.label)],
    ['Waited at', listed(delays.byPlace, (place) => place)],
  ];
}

const inMinutes = (fast: number): string => (fast / 60_000).toFixed(1);

const minutesText = (fast: number): string => `${inMinutes(fast)} fast-clock min`;

function safetyText({ violations: { broken, excused } }: SessionReport): string {
  const text = broken.length === 0 ? 'no violation' : counted(broken.length, 'violation');
  return excused.length === 0 ? text : `${text}; ${excused.length} excused by their cause`;
}

function figureRows({ figures }: SessionReport): [string, string][] {
  const { waits, identities } = figures;
  return [
    ['Meets', `${figures.meets} on single track`],
    [
      'Waits',
      waits.count === 0
        ? 'none'
        : `${waits.count}, together ${spanText(waits.total)}, the longest ${spanText(waits.longest)}`,
    ],
    ...waitRows(figures),
    [
      'Routes',
      `${figures.grants} granted, ${figures.refusedAsUnsafe} refused as unsafe, ` +
        `${figures.refusedForBudget} for lack of search steps`,
    ],
    ['Identities', `${identities.reported} reported, ${identities.inferred} inferred`],
    ['Reversals', `${figures.reversals}`],
    ['Turnouts', `thrown ${figures.throws} times; ${useText(figures.turnouts)}`],
    ['Yard tracks', useText(figures.yardTracks)],
    ['Alarms', `${figures.alarms}`],
  ];
}

/** What was waited for, the longest first. */
function waitRows({ waits }: SessionReport['figures']): [string, string][] {
  const reasons = Object.entries(waits.byReason).sort(
    ([, one], [, other]) => other.total - one.total,
  );
  return reasons.map(([kind, { count, total }], index) => [
    index === 0 ? 'Waited for' : '',
    `${kind.replaceAll('-', ' ')}: ${count}, together ${spanText(total)}`,
  ]);
}

const useText = ({ used, of, unused }: Use): string =>
  `${used} of ${of} used${unused.length === 0 ? '' : `, not ${unused.join(', ')}`}`;

/** What went wrong, each on a line of its own. */
function* troubleLines({ services, violations }: SessionReport): Generator<string> {
  for (const { service, train, why } of services.notRun) {
    yield `not run: ${service} (${train ?? 'no train'}): ${why.join('; ')}`;
  }
  for (const { invariant, at, text } of violations.broken) {
    yield `violation of rule ${invariant} after ${spanText(at)}: ${text}`;
  }
  for (const { at, text, excuse } of violations.excused) {
    yield `excused (${excuse ?? ''}) after ${spanText(at)}: ${text}`;
  }
}
