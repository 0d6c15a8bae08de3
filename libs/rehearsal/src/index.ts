export { Rehearsal } from './rehearsal.js';
export type { RehearsalSetup, StepObserver } from './rehearsal.js';
export { ScriptedDispatcher } from './scripted-dispatcher.js';
