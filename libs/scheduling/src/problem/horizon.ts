import type { Problem } from './problem.js';

/** Largest cost and time with which sums are still exact. */
export const LARGEST_SUM = 281_474_976_710_656;

/** A time beyond which no plan has to go: in one that does, somebody waits without a cause. */
export function horizonOf(problem: Problem): number {
  let latestRelease = 0;
  let work = 0;
  for (const train of problem.trains) {
    for (const { startLb, minDuration, resources } of train) {
      latestRelease = Math.max(latestRelease, startLb);
      work += minDuration;
      for (const { releaseTime } of resources) work += releaseTime;
    }
  }
  return latestRelease + work;
}

/** No plan up to the horizon costs more than this. */
export function largestCost(problem: Problem): number {
  const horizon = horizonOf(problem);
  let cost = 0;
  for (const component of problem.objective) {
    cost +=
      component.type === 'makespan'
        ? component.coeff * horizon
        : component.coeff * Math.max(0, horizon - component.threshold) + component.increment;
  }
  return cost;
}
