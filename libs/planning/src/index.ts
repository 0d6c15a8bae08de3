export { PlanMaker } from './plan/plan-maker.js';
export { PlanningDesk } from './plan/planning-desk.js';
export {
  ARRIVING,
  delayWeight,
  STARTING,
  USUAL_CHOICES,
  type PlanningChoices,
} from './problem/choices.js';
export { movesFrom, type PlannedMove } from './problem/places.js';
export { releaseTime } from './problem/resources.js';
export { approachTime, clearedAt, throwTime } from './problem/timing.js';
export { STANDING, timeOver, type Run } from './situation/running.js';
export type { Situation } from './situation/situation.js';
