export type * from './problem/problem.js';
export { readJobShop } from './problem/read-job-shop.js';
export {
  readPlan,
  readProblem,
  writePlan,
  type ReadFault,
  type ReadResult,
} from './problem/read-problem.js';
export { verifyPlan, type PlanFault, type PlanRule } from './problem/verify-plan.js';
export { Planner, type PlannerOptions, type PlanningState } from './search/planner.js';
