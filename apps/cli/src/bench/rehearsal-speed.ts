import { InvariantChecker, Rehearsal, type RehearsalSetup } from '@blockbell/rehearsal';
import { play } from './play.js';
import { medianOf } from './median.js';
import { numberText, type Benchmark } from './report.js';
import { demoSubject } from './subjects.js';

const WARM_UP = 3;

export const rehearsalSpeed: Benchmark = {
  name: 'rehearsal',
  measure({ quick, tell }) {
    const subject = demoSubject();
    const sessions = quick ? 3 : 9;
    const speeds = { checked: [] as number[], unchecked: [] as number[] };
    tell('the demo’s session, to warm up');
    for (let session = 0; session < WARM_UP; session++) speedOf(subject, true);
    for (let session = 0; session < sessions; session++) {
      tell(`the demo’s session, ${session + 1} of ${sessions}`);
      speeds.checked.push(speedOf(subject, true));
      speeds.unchecked.push(speedOf(subject, false));
    }
    return {
      name: 'rehearsal',
      title: 'Speed of a rehearsal',
      about:
        `Physical time of the demo’s whole session by wall-clock time, engine and simulation in one thread; ${sessions} sessions ` +
        `after ${WARM_UP} to warm up. “Checked”: invariants of safety are checked against the truth after every step.`,
      columns: ['multiple of physical time', 'median', 'slowest', 'fastest'],
      rows: [row('checked', speeds.checked), row('unchecked', speeds.unchecked)],
      figures: [
        {
          what: 'median speed with invariants checked',
          value: medianOf(speeds.checked),
          unit: '× physical time',
          target: { least: 2000 },
        },
      ],
    };
  },
};

function speedOf(subject: RehearsalSetup, checked: boolean): number {
  const rehearsal = new Rehearsal(subject);
  const checker = checked ? new InvariantChecker(rehearsal) : null;
  const began = performance.now();
  play(rehearsal, Infinity);
  const elapsed = performance.now() - began;
  const violation = checker?.broken[0];
  if (violation !== undefined) throw new Error(`An invariant was broken: ${violation.text}`);
  return rehearsal.now / elapsed;
}

const sorted = (values: readonly number[]): number[] => [...values].sort((a, b) => a - b);
const row = (label: string, values: readonly number[]): string[] => [
  label,
  ...[medianOf(values), sorted(values)[0]!, sorted(values).at(-1)!].map(numberText),
];
