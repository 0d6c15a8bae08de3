import { routeText, type Layout } from '@blockbell/railway';
import type {
  RouteTrial,
  TrialComparison,
  TrialProgress,
  TrialReport,
  Use,
} from '@blockbell/rehearsal';
import { counted } from '../fault-text.js';

/** How wide the column of the ids is at most; the few longer ones, with their turnouts, shift the name. */
const ID_COLUMN = 16;

/** A line for each route: its id, by which it is asked for, and what people call it. */
export function routeList(layout: Layout): readonly string[] {
  const wide = Math.min(ID_COLUMN, Math.max(...layout.routes.map(({ id }) => id.length)));
  return layout.routes.map((route) => `${route.id.padEnd(wide)}  ${routeText(layout, route)}`);
}

/** A route by its name, with the id by which it is asked for. */
const called = ({ route, name }: Pick<RouteTrial, 'route' | 'name'>): string =>
  name === route ? route : `${name} (${route})`;

export const trialProgressText = ({ done, of, last }: TrialProgress): string =>
  `${done} of ${of} routes, ${last.name} ${last.outcome}`;

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
    ...trials.flatMap((trial) => trial.notes.map((note) => `  note: ${called(trial)}: ${note}`)),
    `  Turnouts  ${useText(coverage.drives, 'position')}`,
    `  Sections  ${useText(coverage.sections, 'section')}`,
    `  Signals   ${useText(coverage.signals, 'signal')}`,
    ...(whole ? [] : ['Broken off before the end.']),
  ].join('\n');
}

function faultLines(trial: RouteTrial): string[] {
  const { train, outcome, fault } = trial;
  const by = train === null ? '' : ` by ${train}`;
  const head = `  ${outcome === 'failed' ? 'FAILED' : 'not run'}: ${called(trial)}${by}: ${fault?.text ?? ''}`;
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
      ({ before, now, ...route }) =>
        `  ${called(route)}: ${before ?? 'not tried before'} → ${now ?? 'not in the layout any more'}`,
    ),
  ].join('\n');

/** `99 of 99 positions`, with the names of those that were not used. */
export const useText = ({ used, of, unused }: Use, one: string): string =>
  `${used} of ${counted(of, one)}${unused.length === 0 ? '' : `, not ${unused.join(', ')}`}`;
