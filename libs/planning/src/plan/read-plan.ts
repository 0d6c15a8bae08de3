import {
  callFrom,
  callTo,
  type DispatchPlan,
  type PlannedCall,
  type PlanStep,
  type World,
} from '@blockbell/railway';
import type { Plan } from '@blockbell/scheduling';
import type { PlanningProblem } from '../problem/build-problem.js';
import { ARRIVING } from '../problem/choices.js';
import { TICK } from '../problem/units.js';
import type { Situation } from '../situation/situation.js';

/** What the engine is to follow of a plan for the scheduling problem: routes in their order, and when trains are expected. */
export function readPlan(
  world: World,
  situation: Situation,
  { problem, plans }: PlanningProblem,
  plan: Plan,
): DispatchPlan {
  const steps: PlanStep[] = [];
  /** By resource: the last step that takes it. */
  const takers = new Map<string, number>();
  const calls: PlannedCall[] = [];
  const arrivals = plans.map(() => new Map<number, number>());
  for (const { time, train, operation } of plan.events) {
    const { drafts, train: index } = plans[train]!;
    const { meaning } = drafts[operation]!;
    const at = situation.now + time * TICK;
    if (meaning.kind === 'route') {
      const after = new Set<number>();
      for (const { resource } of problem.trains[train]![operation]!.resources) {
        const taker = takers.get(resource);
        if (taker !== undefined && steps[taker]!.train !== index) after.add(taker);
        takers.set(resource, steps.length);
      }
      const { leg, route } = meaning;
      steps.push({ train: index, leg, route, at, after: [...after] });
    }
    if (meaning.kind === 'place' && meaning.atStop)
      arrivals[train]!.set(meaning.leg, at + meaning.run + ARRIVING);
  }
  const fastAt = (at: number): number =>
    Math.round(situation.fast + (at - situation.now) * situation.ratio);
  plans.forEach(({ train }, number) => {
    const departures = new Map<number, number>();
    for (const step of steps)
      if (step.train === train && !departures.has(step.leg)) departures.set(step.leg, step.at);
    const graph = world.graphs[train]!;
    for (const [leg, at] of arrivals[number]!) {
      const to = callTo(graph, leg - 1);
      if (to !== null) calls.push({ train, ...to, arrive: fastAt(at), depart: null });
    }
    for (const [leg, at] of departures) {
      const from = callFrom(graph, leg);
      if (from !== null && graph.stops[leg]!.stops)
        calls.push({ train, ...from, arrive: null, depart: fastAt(at) });
    }
  });
  const { now: made, added } = situation;
  return { made, edition: added.edition, steps, calls: joined(calls) };
}

/** One entry for each call. */
function joined(calls: readonly PlannedCall[]): PlannedCall[] {
  const found = new Map<string, PlannedCall>();
  for (const call of calls) {
    const key = `${call.train} ${call.service} ${call.call}`;
    const other = found.get(key);
    found.set(key, {
      ...call,
      arrive: call.arrive ?? other?.arrive ?? null,
      depart: call.depart ?? other?.depart ?? null,
    });
  }
  return [...found.values()];
}
