import { delayWeight, withResources, type TrainPlan } from '@blockbell/planning';
import { Planner, type DelayComponent, type Operation, type Problem } from '@blockbell/scheduling';
import type { ExaminedTimetable } from '../check-timetable.js';
import type { Way } from '../ways/way.js';
import { TrainShifts } from './train-shifts.js';
import type { ShiftBounds } from './shift-problem.js';

/** Larger problems are not looked at: no bound would come of the effort. */
const MOST_OPERATIONS = 4000;
/** Work between two looks at the bound. */
const SLICE = 200_000;

/**
 * What no change by whole minutes can cost less than: minutes of shift, each times the weight of its train. It holds over all ways the
 * check looks at, for all orders of the trains; null where the problem is too large to say anything.
 *
 * Every timetable in which the check finds nothing is a plan of the problem solved here, which asks for less: times are rounded down,
 * shifts to an earlier time are free, and what has arrived may leave sooner by the time kept for noting that. So what its
 * plans cost at least, the change costs at least.
 * @param found what the change found costs: nothing beyond is of interest
 */
export function leastShift(
  examined: Pick<ExaminedTimetable, 'world' | 'courses'>,
  bounds: ShiftBounds,
  found: number,
  effort: number,
): number | null {
  const problem = relaxedProblem(examined, bounds, found);
  if (problem === null) return null;
  const planner = new Planner(problem, { seed: 1 });
  let { state } = planner;
  while (state.status === 'searching' && state.effort < effort && state.bound < found)
    state = planner.continue(Math.min(SLICE, effort - state.effort));
  return Math.min(found, state.bound);
}

function relaxedProblem(
  { world, courses }: Pick<ExaminedTimetable, 'world' | 'courses'>,
  bounds: ShiftBounds,
  found: number,
): Problem | null {
  const operations = courses.reduce(
    (sum, course) => sum + (course === null ? 0 : sizeOf(course)),
    0,
  );
  if (operations > MOST_OPERATIONS) return null;
  const plans: TrainPlan[] = [];
  const limits: ReadonlyMap<number, number>[] = [];
  const objective: DelayComponent[] = [];
  courses.forEach((course, train) => {
    if (course === null || course.trips.length === 0) return;
    const weight = delayWeight(world.stock.trains[train]!.file.priority);
    const steps = Math.ceil(found / weight);
    const shifts = new TrainShifts(world, course, bounds, steps);
    for (const { operation, threshold } of shifts.minutes)
      objective.push({
        type: 'op_delay',
        train: plans.length,
        operation,
        threshold,
        coeff: 0,
        increment: weight,
      });
    plans.push({ train, drafts: shifts.drafts, costs: [], awaited: shifts.awaited });
    limits.push(shifts.latest);
  });
  const trains = withResources(world.layout, plans).map((train, number) =>
    train.map((operation, at) => relaxed(operation, limits[number]!.get(at))),
  );
  return { trains, objective };
}

const sizeOf = ({ ways }: { readonly ways: readonly ReadonlyMap<number, readonly Way[]>[] }) =>
  ways.reduce(
    (sum, from) =>
      sum +
      [...from.values()].flat().reduce((count, { segments }) => count + segments.length + 1, 0),
    0,
  );

/** Releases come rounded up to ticks: one less is rounded down, or lower. */
const relaxed = (operation: Operation, startUb: number | undefined): Operation => ({
  ...operation,
  startUb: startUb ?? operation.startUb,
  resources: operation.resources.map(({ resource, releaseTime }) => ({
    resource,
    releaseTime: Math.max(0, releaseTime - 1),
  })),
});
