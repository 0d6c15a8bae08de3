export { PlanMaker, searchPlan } from './plan/plan-maker.js';
export { PlanningDesk } from './plan/planning-desk.js';
export {
  ARRIVING,
  delayWeight,
  STARTING,
  USUAL_CHOICES,
  type PlanningChoices,
} from './problem/choices.js';
export { movesFrom, type PlannedMove } from './problem/places.js';
export { connectionResource, releaseTime, withResources } from './problem/resources.js';
export { approachTime, clearedAt, headBefore, throwTime } from './problem/timing.js';
export type { Awaited, Draft, TrainPlan } from './problem/train-plan.js';
export { TICK, ticks } from './problem/units.js';
export { STANDING, timeOver, type Run } from './situation/running.js';
export type { Situation } from './situation/situation.js';
