import { SessionPlanner, type PlannedSession, type PlannerStart } from './session-planner.js';

/** Begins to plan for a session; null where there are no threads for it. */
export type MakePlanner = (start: PlannerStart, session: PlannedSession) => SessionPlanner | null;

/** Token of {@link MakePlanner} for injection. */
export const PLANNERS = Symbol('planners');

/** A thread runs compiled code only: whoever runs the server from its sources has no plans. */
const IS_COMPILED = import.meta.url.endsWith('.js');

export const plannersInThreads: MakePlanner = (start, session) =>
  IS_COMPILED ? new SessionPlanner(start, session) : null;
