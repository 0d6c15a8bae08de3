import { compileWorld, createSession, type EngineState } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { GrantCosts } from './grant-costs.js';
import { demoSubject } from './subjects.js';
import type { TimedStep } from './timed-engine.js';

const { layout, stock, timetable } = demoSubject();
const state = createSession(compileWorld(layout, stock, timetable));

/** A clock tick of so many ms and expansions; `searching`: a search goes on after it. */
function tick(elapsed: number, expansions: number, grants: number, searching: boolean): TimedStep {
  const dispatching: EngineState['dispatching'] = {
    ...state.dispatching,
    searchFor: searching ? { train: 0, to: 1 } : null,
  };
  return {
    input: { at: 0, kind: 'deadline' },
    result: {
      effects: [],
      changes: {
        session: false,
        lineUp: false,
        sections: new Set(),
        elements: new Set(),
        trains: new Set(),
        signals: new Set(),
        alarms: new Set(),
      },
      expansions,
    },
    state: { ...state, dispatching },
    grants,
    elapsed,
  };
}

function costsOf(...steps: readonly TimedStep[]): GrantCosts {
  const costs = new GrantCosts();
  for (const step of steps) costs.see(step);
  return costs;
}

describe('the cost of a grant', () => {
  it('is the step that decides it and its search before that', () => {
    const costs = costsOf(tick(2, 400, 0, true), tick(3, 400, 0, true), tick(1, 50, 1, false));
    expect(costs.elapsed.summary()).toMatchObject({ count: 1, mean: 6 });
    expect(costs.expansions.summary()).toMatchObject({ count: 1, mean: 850 });
  });

  it('is shared by the grants of one step', () => {
    expect(costsOf(tick(6, 0, 3, false)).elapsed.summary()).toMatchObject({ count: 3, mean: 2 });
  });

  it('leaves out the search for another that goes on, and one that came to nothing', () => {
    const going = costsOf(tick(2, 400, 0, true), tick(1, 300, 1, true), tick(1, 10, 1, false));
    expect(going.elapsed.summary()).toMatchObject({ count: 2, mean: 2.5, max: 4 });
    const refused = costsOf(tick(2, 400, 0, true), tick(1, 10, 0, false), tick(1, 0, 1, false));
    expect(refused.elapsed.summary()).toMatchObject({ count: 1, mean: 1 });
  });
});
