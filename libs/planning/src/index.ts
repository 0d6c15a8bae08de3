export { PlanMaker } from './plan/plan-maker.js';
export { PlanningDesk } from './plan/planning-desk.js';
export { USUAL_CHOICES, delayWeight, type PlanningChoices } from './problem/choices.js';
export type { Situation } from './situation/situation.js';
