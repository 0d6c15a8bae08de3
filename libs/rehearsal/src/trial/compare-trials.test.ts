import { expect, it } from 'vitest';
import { compareTrials, type KeptTrial } from './compare-trials.js';

const trial = (
  hash: string,
  outcomes: Record<string, 'passed' | 'failed' | 'not-run'>,
): KeptTrial => ({
  layout: { name: 'Loop', hash },
  trials: Object.entries(outcomes).map(([route, outcome]) => ({
    route,
    name: `way ${route}`,
    outcome,
  })),
});

it('names what changed, what is new and what is gone; a route that was not tried now is no change', () => {
  const now = trial('aa', { A: 'passed', B: 'failed', C: 'passed' });
  const before = trial('aa', { A: 'passed', B: 'passed', D: 'passed', E: 'failed' });
  expect(compareTrials(now, before, new Set(['A', 'B', 'C', 'D']))).toEqual({
    layout: { name: 'Loop', hash: 'aa' },
    isStale: false,
    alike: 1,
    changed: [
      { route: 'B', name: 'way B', before: 'passed', now: 'failed' },
      { route: 'C', name: 'way C', before: null, now: 'passed' },
      { route: 'E', name: 'way E', before: 'failed', now: null },
    ],
  });
});

it('calls a route of an earlier report that has no names by its id', () => {
  const before: KeptTrial = {
    layout: { name: 'Loop', hash: 'aa' },
    trials: [{ route: 'E', outcome: 'passed' }],
  };
  expect(compareTrials(trial('aa', {}), before, new Set()).changed).toEqual([
    { route: 'E', name: 'E', before: 'passed', now: null },
  ]);
});

it('is stale where the layout is another one, though its name is the same', () => {
  const routes = new Set(['A']);
  const one = trial('aa', { A: 'passed' });
  expect(compareTrials(one, trial('ab', { A: 'passed' }), routes).isStale).toBe(true);
  expect(compareTrials(one, { ...one, layout: { name: 'Ring', hash: 'aa' } }, routes).isStale).toBe(
    false,
  );
});
