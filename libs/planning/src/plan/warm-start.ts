import type { DispatchPlan } from '@blockbell/railway';
import type { Plan, PlanEvent } from '@blockbell/scheduling';
import type { PlanningProblem } from '../problem/build-problem.js';
import type { Draft } from '../problem/train-plan.js';
import { TICK } from '../problem/units.js';

/**
 * A wish for the planner to begin with, no plan yet: every train on the way the last plan had for it, else on the one it
 * likes best, as early as the last plan had it, else as if it were alone. Whoever comes first then goes first.
 * @param now physical ms
 */
export function warmStart(
  { plans }: PlanningProblem,
  last: DispatchPlan | null,
  now: number,
): Plan {
  const planned = new Map<string, number>();
  for (const { train, leg, route, at } of last?.steps ?? [])
    planned.set(`${train} ${leg} ${route}`, Math.round((at - now) / TICK));
  const events: PlanEvent[] = [];
  plans.forEach(({ train: index, drafts }, train) => {
    const timeIn = ({ meaning }: Draft): number | undefined =>
      meaning.kind === 'route'
        ? planned.get(`${index} ${meaning.leg} ${meaning.route}`)
        : undefined;
    let time = 0;
    for (let at: number | undefined = 0; at !== undefined;) {
      const draft: Draft = drafts[at]!;
      time = Math.max(time, draft.startLb, timeIn(draft) ?? 0);
      events.push({ time, train, operation: at });
      time += draft.minDuration;
      const { successors } = draft;
      at = successors.find((next) => timeIn(drafts[next]!) !== undefined) ?? successors[0];
    }
  });
  events.sort((a, b) => a.time - b.time || a.train - b.train || a.operation - b.operation);
  return { objectiveValue: 0, events };
}
