export type * from './problem/problem.js';
export { horizonOf, LARGEST_SUM, largestCost } from './problem/horizon.js';
export { readJobShop } from './problem/read-job-shop.js';
export { readPlan, readProblem, type ReadFault, type ReadResult } from './problem/read-problem.js';
export { planCost, verifyPlan, type PlanFault, type PlanRule } from './problem/verify-plan.js';
export { Planner, type PlannerOptions, type PlanningState } from './search/planner.js';
