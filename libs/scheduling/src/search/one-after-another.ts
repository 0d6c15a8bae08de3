import type { Plan, PlanEvent, Problem, Train } from '../problem/problem.js';
import { planCost, verifyPlan } from '../problem/verify-plan.js';

/**
 * The plan that is there at once: trains in the order in which they may set out, each on the way that brings it through first
 * when all before it have gone everywhere. Nobody can meet head-on so. Null where that is no plan: where a train
 * stands in another's way from the beginning, or must not wait so long.
 */
export function oneAfterAnother(problem: Problem): Plan | null {
  const order = problem.trains.map((_, train) => train);
  const setsOut = (train: number): number => problem.trains[train]![0]!.startLb;
  order.sort((a, b) => setsOut(a) - setsOut(b) || a - b);
  /** By resource: the train that used it last, until it is free. */
  const free = new Map<string, number>();
  const found: (PlanEvent & { readonly turn: number })[] = [];
  for (const [turn, train] of order.entries()) {
    const operations = problem.trains[train]!;
    const course = quickestCourse(operations, free);
    if (course === null) return null;
    const freed = new Map<string, number>();
    course.forEach(({ operation, time }, at) => {
      found.push({ time, train, operation, turn });
      const end = course[at + 1]?.time ?? Infinity;
      for (const { resource, releaseTime } of operations[operation]!.resources)
        freed.set(resource, Math.max(freed.get(resource) ?? 0, end + releaseTime));
    });
    for (const [resource, time] of freed)
      free.set(resource, Math.max(free.get(resource) ?? 0, time));
  }
  // At one moment trains come in their turn, so that who goes first has let go of what the next one takes.
  found.sort((a, b) => a.time - b.time || a.turn - b.turn || a.operation - b.operation);
  const events = found.map(({ time, train, operation }) => ({ time, train, operation }));
  const plan = { objectiveValue: planCost(problem, { events }), events };
  return verifyPlan(problem, plan).length > 0 ? null : plan;
}

interface Start {
  readonly operation: number;
  readonly time: number;
}

/** The way to a train's last operation that ends soonest when every resource is taken once it is free for good; null: none. */
function quickestCourse(train: Train, free: ReadonlyMap<string, number>): readonly Start[] | null {
  const earliest = train.map(() => Infinity);
  const before = train.map(() => -1);
  const reach = (operation: number, from: number, time: number): void => {
    const { startLb, startUb, resources } = train[operation]!;
    let at = Math.max(time, startLb);
    for (const { resource } of resources) at = Math.max(at, free.get(resource) ?? 0);
    if (at >= earliest[operation]! || at > startUb) return;
    earliest[operation] = at;
    before[operation] = from;
  };
  reach(0, -1, 0);
  train.forEach(({ minDuration, successors }, operation) => {
    const ready = earliest[operation]! + minDuration;
    if (ready < Infinity) for (const next of successors) reach(next, operation, ready);
  });
  const last = train.length - 1;
  if (earliest[last] === Infinity) return null;
  const course: Start[] = [];
  for (let at = last; at >= 0; at = before[at]!)
    course.push({ operation: at, time: earliest[at]! });
  return course.reverse();
}
