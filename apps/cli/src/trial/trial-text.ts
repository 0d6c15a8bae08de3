import type {
  RouteTrial,
  TrialComparison,
  TrialProgress,
  TrialReport,
  Use,
} from '@blockbell/rehearsal';
import { counted } from '../fault-text.js';

export const trialProgressText = ({ done, of, last }: TrialProgress): string =>
  `${done} of ${of} routes, ${last.route} ${last.outcome}`;

/** A trial as a builder reads it: what it came to, where it failed, what was left out, what it used of the layout. */
export function trialText(report: TrialReport): string {
  const { layout, seed, trials, passed, failed, notRun, whole, coverage } = report;
  const of = (outcome: RouteTrial['outcome']): RouteTrial[] =>
    trials.filter((trial) => trial.outcome === outcome);
  return [
    `${layout.name} (${layout.hash}), seed ${seed}`,
    `  ${counted(trials.length, 'route')}: ${passed} passed, ${failed} failed, ${notRun} not run`,
    ...of('failed').flatMap(faultLines),
    ...of('not-run').flatMap(faultLines),
    ...trials.flatMap(({ route, notes }) => notes.map((note) => `  note: ${route}: ${note}`)),
    `  Turnouts  ${useText(coverage.drives, 'position')}`,
    `  Sections  ${useText(coverage.sections, 'section')}`,
    `  Signals   ${useText(coverage.signals, 'signal')}`,
    ...(whole ? [] : ['Broken off before the end.']),
  ].join('\n');
}

function faultLines({ route, train, outcome, fault }: RouteTrial): string[] {
  const by = train === null ? '' : ` by ${train}`;
  const head = `  ${outcome === 'failed' ? 'FAILED' : 'not run'}: ${route}${by}: ${fault?.text ?? ''}`;
  return fault?.mend ? [head, `    mend: ${fault.mend}`] : [head];
}

/** How a trial compares with an earlier one. `hash`: digest of the layout tried now. */
export const comparisonText = (
  { layout, isStale, alike, changed }: TrialComparison,
  hash: string,
): string =>
  [
    `Compared with a report of ${layout.name} (${layout.hash})`,
    ...(isStale
      ? [
          `  STALE: that layout is not the one tried now (${hash}); what was found then need not hold any more.`,
        ]
      : []),
    `  ${counted(alike, 'route')} as before, ${changed.length} otherwise`,
    ...changed.map(
      ({ route, before, now }) =>
        `  ${route}: ${before ?? 'not tried before'} → ${now ?? 'not in the layout any more'}`,
    ),
  ].join('\n');

/** `99 of 99 positions`, with the names of those that were not used. */
export const useText = ({ used, of, unused }: Use, one: string): string =>
  `${used} of ${counted(of, one)}${unused.length === 0 ? '' : `, not ${unused.join(', ')}`}`;
