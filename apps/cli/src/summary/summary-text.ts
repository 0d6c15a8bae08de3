import { causesText, type SessionSummary } from '@blockbell/journal';
import { fastTime, formatClockText } from '@blockbell/railway';
import { spanText } from '../rehearse/report-text.js';

/** A summary as a dispatcher reads it: all services, and of locomotives and detectors those that are worth a look. */
export function summaryText(told: SessionSummary): string {
  const { services, alarms, locomotives, detectors } = told;
  const late = services.filter(({ late: by }) => by !== null && by > 0);
  const odd = locomotives.filter(({ verdict }) => verdict !== 'good' && verdict !== 'not seen');
  const bad = detectors.filter(({ verdict }) => verdict !== 'good' && verdict !== 'not used');
  const clock = formatClockText(fastTime(told.fast)).slice(0, 5);
  return [
    `${told.layout}, ${told.timetable}, up to ${clock}, ${spanText(told.duration)} of running`,
    '',
    `Services: ${services.filter(({ run }) => run).length} of ${services.length} run, ${late.length} late at the last arrival`,
    ...late.map((it) => {
      const causes = causesText(it);
      return `  ${it.name} (${it.train}): ${minutes(it.late ?? 0)} late = ${minutes(it.entry)} brought + ${minutes(it.own)} own + waits − ${minutes(it.recovered)} made up${causes === '' ? '' : `; ${causes}`}`;
    }),
    '',
    alarms.length === 0 ? 'Alarms: none' : 'Alarms:',
    ...alarms.map(({ kind, count, first }) => `  ${count} × ${kind}, first: ${first}`),
    '',
    odd.length === 0 ? 'Locomotives: every decoder answers' : 'Locomotives:',
    ...odd.map(
      ({ name, address, train, visits, answered, verdict }) =>
        `  ${name} (${address}${train === null ? '' : `, ${train}`}): ${verdict}; answered in ${answered} of ${visits} visits`,
    ),
    '',
    bad.length === 0 ? 'Detectors: none stands out' : 'Detectors:',
    ...bad.map(
      ({ section, place, verdict, flickers, visits, read, misread }) =>
        `  ${section} (${place}): ${verdict}; flickered ${flickers} times, read in ${read} of ${visits} visits, misread ${misread} times`,
    ),
  ].join('\n');
}

const minutes = (fast: number): string => `${(fast / 60_000).toFixed(1)} min`;
