import type { Excused, FaultLevel, SessionOutcome, Summary, Totals } from '@blockbell/rehearsal';
import { numberText, type Figure, type Report } from '../bench/report.js';

/** Services that may fail to run, at most, in percent, by the level of faults. */
const MAY_NOT_RUN: Partial<Record<FaultLevel, number>> = { none: 0, ordinary: 5 };

/** What an endurance run came to: sessions, faults by kind, and what was excused. */
export function endureReports({ all, byLevel }: Summary): Report[] {
  const columns = [...byLevel.map(({ level }) => level), 'all'];
  const each = [...byLevel.map(({ totals }) => totals), all];
  return [
    sessionsReport({ all, byLevel }),
    {
      name: 'endure',
      title: 'Faults injected',
      about:
        'By kind. Edges are messages that a section has become occupied or free; throws are commands that moved a drive.',
      columns: ['kind', ...columns],
      rows: [
        row('edges', each, ({ edges }) => edges),
        row('throws', each, ({ throws }) => throws),
        ...Object.keys(all.faults).map((kind) =>
          row(kind, each, ({ faults }) => (faults as Record<string, number>)[kind] ?? 0),
        ),
      ],
      figures: [],
    },
    {
      name: 'endure',
      title: 'Excused',
      about:
        'What broke an invariant and no logic could have prevented, by the fault that caused it; contacts are those of invariant 1.',
      columns: ['cause, invariant', ...columns],
      rows: all.excused.map(({ cause, invariant }) =>
        row(`${cause}, ${invariant}`, each, ({ excused }) => countOf(excused, cause, invariant)),
      ),
      figures: [],
    },
  ];
}

function sessionsReport({ all, byLevel }: Summary): Report {
  return {
    name: 'endure',
    title: 'Sessions with faults',
    about:
      'Whole sessions, the invariants of safety checked after every step against where the trains truly are, and the state ' +
      `kept up compared with the state rebuilt ${numberText(all.compared)} times. Kilometres are those of all trains on the model.`,
    columns: [
      'faults',
      'sessions',
      'of the demo',
      'train-km',
      'steps',
      'services',
      'not run',
      '%',
      'questions',
      'not ended',
      'failed',
    ],
    rows: [
      ...byLevel.map(({ level, totals }) => sessionsRow(level, totals)),
      sessionsRow('all', all),
    ],
    figures: [
      { what: 'sessions that failed', value: all.failed, unit: 'sessions', target: { most: 0 } },
      ...byLevel.flatMap(({ level, totals }) => notRunFigure(level, totals)),
    ],
  };
}

const sessionsRow = (label: string, totals: Totals): string[] => [
  label,
  ...[
    totals.sessions,
    totals.demo,
    totals.distance / 1_000_000,
    totals.steps,
    totals.planned,
    totals.planned - totals.run,
    percent(totals.planned - totals.run, totals.planned),
    totals.questions,
    totals.notEnded,
    totals.failed,
  ].map(numberText),
];

const row = (label: string, each: readonly Totals[], of: (totals: Totals) => number): string[] => [
  label,
  ...each.map((totals) => numberText(of(totals))),
];

const countOf = (excused: readonly Excused[], cause: string, invariant: number): number =>
  excused.find((each) => each.cause === cause && each.invariant === invariant)?.count ?? 0;

const percent = (part: number, whole: number): number => (whole === 0 ? 0 : (part / whole) * 100);

function notRunFigure(level: FaultLevel, { run, planned }: Totals): Figure[] {
  const most = MAY_NOT_RUN[level];
  if (most === undefined) return [];
  const what = `services not run, faults: ${level}`;
  return [{ what, value: percent(planned - run, planned), unit: '%', target: { most } }];
}

/** Services that did not run are listed up to so many; JSON has all of them. */
const SHOWN = 20;

/** Services that did not run, in which session and why. */
export function notRunLines(outcomes: readonly SessionOutcome[]): string[] {
  const lines = outcomes.flatMap(({ request, level, railway, notRun }) =>
    notRun.map(
      ({ service, train, why }) =>
        `not run in session ${request.number} (${railway}, faults: ${level}): ${service} (${train ?? 'no train'}): ${why.join(' ')}`,
    ),
  );
  const rest = lines.length - SHOWN;
  return rest <= 0 ? lines : [...lines.slice(0, SHOWN), `and ${rest} more services not run`];
}
