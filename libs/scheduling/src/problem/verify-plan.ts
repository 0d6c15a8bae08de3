import { delayCost, type Plan, type PlanEvent, type Problem } from './problem.js';

/** Rules a plan can break, by name. */
export type PlanRule =
  'unknown' | 'list-order' | 'path' | 'start-bounds' | 'min-duration' | 'resource' | 'objective';

export interface PlanFault {
  readonly rule: PlanRule;
  /** Position in the list of events, or −1 for the plan as a whole. */
  readonly event: number;
  readonly message: string;
}

/** Everything that is wrong with a plan, judged by the format's definition alone; empty for a valid plan. */
export function verifyPlan(problem: Problem, plan: Plan): PlanFault[] {
  const faults: PlanFault[] = [];
  const known = plan.events.every(({ time, train, operation }, i) => {
    const exists = problem.trains[train]?.[operation] !== undefined && Number.isSafeInteger(time);
    if (!exists)
      faults.push({
        rule: 'unknown',
        event: i,
        message: `Event ${i} names no train’s operation at a whole time.`,
      });
    return exists;
  });
  if (!known) return faults;
  checkListOrder(plan, faults);
  const events = byTrain(problem, plan);
  problem.trains.forEach((_, train) => checkTrain(problem, events[train]!, train, faults));
  checkResources(problem, plan, faults);
  if (faults.length === 0) {
    const value = planCost(problem, plan);
    if (value !== plan.objectiveValue)
      faults.push({
        rule: 'objective',
        event: -1,
        message: `The plan says it costs ${plan.objectiveValue}, but it costs ${value}.`,
      });
  }
  return faults;
}

/** Cost of a plan's events. */
export function planCost(problem: Problem, plan: Pick<Plan, 'events'>): number {
  const starts = new Map(
    plan.events.map(({ time, train, operation }) => [`${train} ${operation}`, time]),
  );
  let cost = 0;
  for (const component of problem.objective) {
    if (component.type === 'makespan') {
      const ends = problem.trains.map((train, t) => starts.get(`${t} ${train.length - 1}`) ?? 0);
      cost += component.coeff * Math.max(0, ...ends);
    } else {
      const time = starts.get(`${component.train} ${component.operation}`);
      if (time !== undefined) cost += delayCost(component, time);
    }
  }
  return cost;
}

function checkListOrder({ events }: Plan, faults: PlanFault[]): void {
  events.forEach(({ time }, i) => {
    const before = events[i - 1];
    if (before !== undefined && time < before.time)
      faults.push({
        rule: 'list-order',
        event: i,
        message: `Event ${i} is at ${time}, before event ${i - 1} at ${before.time}.`,
      });
  });
}

/** An event of a train, and its position in the list. */
type TrainEvent = PlanEvent & { readonly i: number };

function byTrain({ trains }: Problem, { events }: Plan): TrainEvent[][] {
  const lists = trains.map((): TrainEvent[] => []);
  events.forEach(({ time, train, operation }, i) =>
    lists[train]!.push({ time, train, operation, i }),
  );
  return lists;
}

function checkTrain(
  problem: Problem,
  own: readonly TrainEvent[],
  train: number,
  faults: PlanFault[],
): void {
  const operations = problem.trains[train]!;
  if (own[0]?.operation !== 0)
    faults.push({
      rule: 'path',
      event: own[0]?.i ?? -1,
      message: `Train ${train} does not start with operation 0.`,
    });
  if (own.at(-1)?.operation !== operations.length - 1)
    faults.push({
      rule: 'path',
      event: own.at(-1)?.i ?? -1,
      message: `Train ${train} does not end with its last operation.`,
    });
  own.forEach(({ time, operation, i }, step) => {
    const { startLb, startUb, minDuration, successors } = operations[operation]!;
    if (time < startLb || time > startUb)
      faults.push({
        rule: 'start-bounds',
        event: i,
        message: `Train ${train} starts operation ${operation} at ${time}, outside ${startLb} to ${startUb}.`,
      });
    const next = own[step + 1];
    if (next === undefined) return;
    if (!successors.includes(next.operation))
      faults.push({
        rule: 'path',
        event: next.i,
        message: `Train ${train} can’t go from operation ${operation} to ${next.operation}.`,
      });
    if (next.time < time + minDuration)
      faults.push({
        rule: 'min-duration',
        event: next.i,
        message: `Train ${train} ends operation ${operation} after ${next.time - time} instead of ${minDuration}.`,
      });
  });
}

/** Goes through the list as it stands: at each event the train lets go of what it held and takes what it needs. */
function checkResources(problem: Problem, { events }: Plan, faults: PlanFault[]): void {
  const holders = new Map<string, Map<number, number>>();
  const releases = new Map<string, { train: number; free: number }[]>();
  const current = new Map<number, PlanEvent>();
  events.forEach((event, i) => {
    const { time, train, operation } = event;
    const before = current.get(train);
    for (const { resource, releaseTime } of before === undefined
      ? []
      : problem.trains[train]![before.operation]!.resources) {
      const held = holders.get(resource)!;
      const left = held.get(train)! - 1;
      if (left === 0) held.delete(train);
      else held.set(train, left);
      const list = releases.get(resource) ?? [];
      list.push({ train, free: time + releaseTime });
      releases.set(resource, list);
    }
    for (const { resource } of problem.trains[train]![operation]!.resources) {
      const held = holders.get(resource) ?? new Map<number, number>();
      for (const other of held.keys()) {
        if (other === train) continue;
        faults.push({
          rule: 'resource',
          event: i,
          message: `Train ${train} takes ${resource} at event ${i}, while train ${other} holds it.`,
        });
      }
      for (const { train: other, free } of releases.get(resource) ?? []) {
        if (other === train || free <= time) continue;
        faults.push({
          rule: 'resource',
          event: i,
          message: `Train ${train} takes ${resource} at ${time}, before train ${other} has released it at ${free}.`,
        });
      }
      held.set(train, (held.get(train) ?? 0) + 1);
      holders.set(resource, held);
    }
    current.set(train, event);
  });
}
