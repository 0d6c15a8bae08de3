/** What passes between server and board; a board needs nothing else of the contract. */
export { readStagingRules } from '../files/read-staging-rules.js';
export * from './views.js';
export * from './roles.js';
export * from './commands.js';
export * from './people.js';
export * from './recordings.js';
export * from './route-trial.js';
export * from './timetable-check.js';
export * from './rehearsals.js';
export * from './return-to-start.js';
export * from './session-summary.js';
export * from './what-if.js';
