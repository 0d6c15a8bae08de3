export { Rehearsal } from './rehearsal.js';
export type { RehearsalSetup, Restart, StepObserver } from './rehearsal.js';
export { ScriptedDispatcher } from './scripted-dispatcher.js';
export { InvariantChecker } from './invariants/checker.js';
export type { InvariantNumber, Violation } from './invariants/violation.js';
export { runSession } from './run-session.js';
export type { SessionProgress, SessionReport, SessionSetup } from './run-session.js';
export { isWorkDone, longestSession, passSeconds, SessionEnd } from './session-loop.js';
export type { Punctuality, ServiceArrival, ServiceNotRun, ServicesRun } from './services-run.js';
export type { Figures } from './tally/tally.js';
export type { Use } from './tally/track-use.js';
export { differenceFromRebuilt } from './invariants/rebuilt-state.js';
export * from './endure/index.js';
export { FULL_BOUNDS, QUICK_BOUNDS } from './exhaustive/bounds.js';
export { explore } from './exhaustive/explore.js';
export type { CounterExample, Exploration, ExploreProgress } from './exhaustive/explore.js';
export { SMALL_RAILWAYS } from './exhaustive/railways/all.js';
export type { Bounds, Scenario } from './exhaustive/scenario.js';
export { compareTrials } from './trial/compare-trials.js';
export type { TrialComparison } from './trial/compare-trials.js';
export { runTrial, unknownIn } from './trial/run-trial.js';
export type {
  RouteTrial,
  TrialFault,
  TrialProgress,
  TrialReport,
  TrialSetup,
  TriedDrive,
} from './trial/trial.js';
export { askWhatIf } from './what-if/what-if.js';
export type { PresentSession, WhatIf, WhatIfQuestion } from './what-if/what-if.js';
