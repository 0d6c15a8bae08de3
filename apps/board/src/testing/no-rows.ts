import type { LiveRows } from '../live/live-rows.js';

/** A copy of the state to which nothing has come yet. */
export const noRows = (): LiveRows => ({
  session: null,
  sections: new Map(),
  elements: new Map(),
  signals: new Map(),
  trains: new Map(),
  alarms: new Map(),
  runs: new Map(),
  lineUp: [],
  strangers: [],
  log: [],
});
