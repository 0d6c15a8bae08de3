import type { Comparison } from '../report/compare.js';
import type { RehearsalReport } from '../report/report.js';
import { decimal, minutes } from '../pictures/drawing.js';
import { DISPATCHING_WORDS, meanText, shareText } from './words.js';

/** How many of the worst are told. */
const TOLD = 5;

/** A report in words: each row a name and what there is to say. */
export function summaryRows(report: RehearsalReport): (readonly [string, string])[] {
  const { punctuality, lateness, delay, waits, connections, alarms, ends, seeds } = report;
  const seedText = seeds === null ? '' : `, seeds ${seeds.first} to ${seeds.last}`;
  const missed = connections.map(
    ({ from, to, place, missed: it }) => `${from} to ${to} at ${place}: ${shareText(it)}`,
  );
  const notRun = report.services.filter((it) => it.notRun > 0);
  return [
    [
      'Sessions',
      `${report.sessions} of ${report.asked}, ${report.ended} came to their end${seedText}`,
    ],
    ['Dispatching', DISPATCHING_WORDS[report.dispatching]],
    ['Staging', report.rules ?? 'as the timetable has it'],
    ['Return to start', report.returns ? 'before each session ends' : 'none'],
    ['Disturbances', report.disturbances],
    ['Within 3 min', meanText(punctuality.within3, '% of arrivals')],
    ['Within 5 min', meanText(punctuality.within5, '% of arrivals')],
    [
      'Late by',
      `median ${minutes(lateness.median)}, 90 of 100 up to ${minutes(lateness.p90)}, 95 of 100 up to ${minutes(lateness.p95)}, at most ${minutes(lateness.most)}`,
    ],
    ['Mean delay', meanText(report.meanDelay, 'min at an arrival')],
    ['Own', meanText(delay.own, 'min a session')],
    ['Waiting', meanText(delay.knockOn, 'min a session for other trains')],
    ['Waited at', listed(waits.byPlace.map((it) => `${it.place} ${minutes(it.perSession)}`))],
    ['Waited on', listed(waits.byTrain.map((it) => `${it.train} ${minutes(it.perSession)}`))],
    ['Connections', missed.length === 0 ? 'none in the timetable' : `missed: ${missed.join('; ')}`],
    ['Not run', listed(notRun.map((it) => `${it.name} in ${it.notRun} sessions`))],
    ...report.open.map(({ name, run, trains }): [string, string] => [
      name,
      `names no train; run: ${shareText(run)}, by ${listed(trains.map((it) => `${it.train} in ${it.sessions}`))}`,
    ]),
    ['Alarms', `${meanText(alarms.perHour, 'an hour of running')}`],
    ['Ends as begun', shareText(ends.asBegan)],
    [
      'Elsewhere',
      listed(ends.elsewhere.map((it) => `${it.train} ${it.share.percent.toFixed(0)} %`)),
    ],
    ['Safety', report.violations === 0 ? 'no violation' : `${report.violations} violations`],
    ['End states', report.digest],
  ];
}

/** A comparison in words: what, both figures, the difference with its interval, the verdict. */
export const comparedRows = ({ lines }: Comparison): string[][] =>
  lines.map(({ what, unit, first, second, difference, verdict }) => [
    unit === '' ? what : `${what}, ${unit}`,
    decimal(first),
    decimal(second),
    meanText(difference, ''),
    VERDICTS[verdict],
  ]);

const VERDICTS = {
  better: 'better',
  worse: 'worse',
  same: 'the same',
  unclear: 'no difference shown',
} as const;

const listed = (items: readonly string[]): string =>
  items.length === 0 ? 'none' : items.slice(0, TOLD).join('; ');
