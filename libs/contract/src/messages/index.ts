/** What passes between server and board; a board needs nothing else of the contract. */
export * from './views.js';
export * from './commands.js';
export * from './recordings.js';
