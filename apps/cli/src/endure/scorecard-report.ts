import {
  FAULT_LEVELS,
  SILENT_SHARES,
  summarise,
  type SessionOutcome,
  type Totals,
} from '@blockbell/rehearsal';
import { numberText, type Figure, type Report } from '../bench/report.js';

/** How well trains are known, by the level of faults and the share of decoders that never answer. */
export function scorecardReport(outcomes: readonly SessionOutcome[]): Report {
  const cells = FAULT_LEVELS.flatMap((level) =>
    SILENT_SHARES.map((silent) => {
      const own = outcomes.filter(
        ({ request }) => request.level === level && request.silent === silent,
      );
      return { level, silent, totals: summarise(own).all };
    }),
  ).filter(({ totals }) => totals.sessions > 0);
  return {
    name: 'scorecard',
    title: 'Identity scorecard',
    about:
      'Share of the time of all trains, from the start of the session to its end, in which the train believed to stand ' +
      'somewhere is the one that stands there and automation may act on it (certain), in which something or somebody must tell more first ' +
      '(uncertain), and in which it is certain but not true: without any fault that moves stock where no logic could keep it ' +
      'from (wrong), and with one (wrong, excused). Questions are alarms that ask a person which train stands where, or what.',
    columns: [
      'faults, silent decoders',
      'sessions',
      'certain %',
      'uncertain %',
      'wrong %',
      'wrong, excused %',
      'services',
      'questions',
      'questions in 50 services',
    ],
    rows: cells.map(({ level, silent, totals }) => cellRow(`${level}, ${silent} %`, totals)),
    figures: cells.flatMap(({ level, silent, totals }) => cellFigures(level, silent, totals)),
  };
}

function shares({ identity }: Totals) {
  const { right, uncertain, wrong } = identity;
  const { none = 0, ...excused } = wrong;
  const byFault = Object.values(excused).reduce((sum, each) => sum + each, 0);
  const whole = Math.max(1, right + uncertain + none + byFault);
  const percent = (part: number): number => (part / whole) * 100;
  return {
    certain: percent(right),
    uncertain: percent(uncertain),
    wrong: percent(none),
    excused: percent(byFault),
  };
}

const per50 = ({ questions, planned }: Totals): number =>
  planned === 0 ? 0 : (questions * 50) / planned;

function cellRow(label: string, totals: Totals): string[] {
  const { certain, uncertain, wrong, excused } = shares(totals);
  return [
    label,
    numberText(totals.sessions),
    ...[certain, uncertain, wrong, excused].map((share) => share.toFixed(3)),
    numberText(totals.planned),
    numberText(totals.questions),
    numberText(per50(totals)),
  ];
}

function cellFigures(level: string, silent: number, totals: Totals): Figure[] {
  const where = `faults: ${level}, ${silent} % silent`;
  const { certain, wrong } = shares(totals);
  const figures: Figure[] = [
    { what: `certain and wrong, ${where}`, value: wrong, unit: '%', target: { most: 0 } },
  ];
  if (level === 'none') {
    const value = 100 - certain;
    figures.push({ what: `not certain, ${where}`, value, unit: '%', target: { most: 1 } });
  }
  if (level === 'ordinary') {
    const what = `questions in 50 services, ${where}`;
    figures.push({ what, value: per50(totals), unit: 'questions', target: { most: 1 } });
  }
  return figures;
}
