import type {
  RouteTrialReport,
  RouteTrialView,
  TriedRouteView,
} from '@blockbell/contract/messages';
import { spanText } from '../shared/span-text.js';

/** A trial that goes on, or the last one. */
export type Trial = NonNullable<RouteTrialView['trial']>;

export const OUTCOME_WORDS: Readonly<Record<TriedRouteView['outcome'], string>> = {
  passed: '✓ passed',
  failed: '✗ failed',
  'not-run': '– not run',
};

/** `12 of 101 routes tried, 1 failed, about 20 s left`. */
export function progressWords({ done, of, took, failed }: Trial): string {
  if (of === null) return 'The first route is being tried …';
  const wrong = failed.length === 0 ? 'none failed' : `${failed.length} failed`;
  const left = done === 0 ? 0 : (took / done) * (of - done);
  return `${done} of ${of} ${of === 1 ? 'route' : 'routes'} tried, ${wrong}, about ${spanText(left)} left`;
}

export function resultWords({ passed, failed, notRun, whole }: RouteTrialReport): string {
  const parts = [`${passed} passed`, `${failed} failed`, `${notRun} not run`];
  return `${parts.join(', ')}${whole ? '' : '; broken off before the end'}`;
}

/** Why the last trial says nothing of the layout that runs. */
export const staleWords = (tried: RouteTrialReport['layout'], name: string): string =>
  tried.name === name
    ? `The last trial was of ${name} as it was before it was changed: what it found need not hold any more. Try again.`
    : `The last trial was of another layout, ${tried.name}.`;

/** `99 of 101 positions, not TW reverse`. */
export const useWords = (
  { used, of, unused }: RouteTrialReport['coverage']['drives'],
  things: string,
): string => `${used} of ${of} ${things}${unused.length === 0 ? '' : `, not ${unused.join(', ')}`}`;

/** What a person reads beside a route that was tried. */
export const remarksOn = ({ fault, notes }: TriedRouteView): string =>
  [fault?.text, fault?.mend, ...notes].filter((text) => typeof text === 'string').join(' ');

/** Seconds to a tenth; the empty text where nothing was measured. */
export const secondsOf = (ms: number | null): string => (ms === null ? '' : (ms / 1000).toFixed(1));
