export { Rehearsal } from './rehearsal.js';
export type { RehearsalSetup, StepObserver } from './rehearsal.js';
export { ScriptedDispatcher } from './scripted-dispatcher.js';
export { InvariantChecker } from './invariants/checker.js';
export type { InvariantNumber, Violation } from './invariants/violation.js';
