import type { LiveRows } from '../live/live-rows.js';
import { RowTable } from '../live/row-table.js';

/** A copy of the state to which nothing has come yet. */
export const noRows = (): LiveRows => ({
  session: null,
  sections: new RowTable(),
  elements: new RowTable(),
  signals: new RowTable(),
  trains: new Map(),
  alarms: new Map(),
  runs: new Map(),
  lineUp: [],
  strangers: [],
  log: [],
});
