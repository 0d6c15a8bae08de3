import type { Layout } from '@blockbell/railway';
import { endName } from './end-name.js';
import { use } from '../tally/track-use.js';
import type { RouteTrial, TrialReport } from './trial.js';

/** What the routes tried have used of a layout. */
export function coverageOf(layout: Layout, trials: readonly RouteTrial[]): TrialReport['coverage'] {
  const positions = new Set(
    trials.flatMap(({ drives }) =>
      drives.filter(({ proven }) => proven !== null).map(({ id, position }) => `${id} ${position}`),
    ),
  );
  const sections = new Set(trials.flatMap((trial) => trial.sections));
  const open = new Set(
    trials
      .filter(({ aspect }) => aspect === 'caution' || aspect === 'proceed')
      .map(({ from }) => from),
  );
  const driven = layout.elements.flatMap(({ id, drive }) =>
    (drive?.positions ?? []).map((position) => `${id} ${position}`),
  );
  const signals = new Set(layout.routes.map((route) => endName(layout, route.from)));
  return {
    drives: use(driven, (name) => positions.has(name), identity),
    sections: use(
      layout.sections,
      ({ id }) => sections.has(id),
      ({ id }) => id,
    ),
    signals: use([...signals], (name) => open.has(name), identity),
  };
}

const identity = (name: string): string => name;
