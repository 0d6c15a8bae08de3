import type {
  AlarmView,
  ChangedRows,
  DeltaMessage,
  ElementView,
  LineUpView,
  LogView,
  RunView,
  SectionView,
  SessionView,
  SignalView,
  SnapshotMessage,
  StrangerView,
  TrainChange,
  TrainView,
} from '@blockbell/contract/messages';
import { RowTable } from './row-table.js';

/** How many log entries the board keeps. */
const LOG_KEPT = 200;

/** The board's copy of the state: rows by the number they carry. */
export interface LiveRows {
  session: SessionView | null;
  readonly sections: RowTable<SectionView>;
  readonly elements: RowTable<ElementView>;
  /** By heading. */
  readonly signals: RowTable<SignalView>;
  readonly trains: Map<number, TrainView>;
  /** By alarm id. */
  readonly alarms: Map<number, AlarmView>;
  readonly runs: Map<number, RunView>;
  /** The line-up and the strangers are short lists that arrive whole, since their rows come and go. */
  lineUp: readonly LineUpView[];
  strangers: readonly StrangerView[];
  /** Oldest first. */
  log: readonly LogView[];
}

/** A copy of the state to which nothing has come yet, and which nobody watches. */
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

/** The state that a message is about. */
export interface Revision {
  readonly epoch: string;
  readonly revision: number;
}

export const revisionOf = ({ epoch, revision }: Revision): Revision => ({ epoch, revision });

/** Whether `delta` continues from what we have; if not, a row may be missing and only a snapshot helps. */
export const continues = (have: Revision | null, delta: DeltaMessage): boolean =>
  have !== null && have.epoch === delta.epoch && have.revision === delta.from;

/** Replaces everything by the snapshot's rows. */
export function replaceRows(live: LiveRows, { rows }: SnapshotMessage): void {
  for (const kept of [
    live.sections,
    live.elements,
    live.signals,
    live.trains,
    live.alarms,
    live.runs,
  ])
    kept.clear();
  live.session = null;
  live.lineUp = [];
  live.strangers = [];
  live.log = [];
  mergeRows(live, rows);
}

/** Merges what changed, each row by its number. */
export function mergeRows(live: LiveRows, rows: ChangedRows): void {
  if (rows.session) live.session = rows.session;
  put(live.sections, rows.sections, (row) => row.section);
  put(live.elements, rows.elements, (row) => row.element);
  put(live.signals, rows.signals, (row) => row.heading);
  for (const change of rows.trains ?? []) changeTrain(live, change);
  put(live.alarms, rows.alarms, (row) => row.id);
  put(live.runs, rows.runs, (row) => row.train);
  if (rows.lineUp) live.lineUp = rows.lineUp;
  if (rows.strangers) live.strangers = rows.strangers;
  if (rows.log) live.log = appended(live.log, rows.log);
}

function put<Row>(
  kept: { set(number: number, row: Row): void },
  changed: readonly Row[] | undefined,
  numberOf: (row: Row) => number,
): void {
  for (const row of changed ?? []) kept.set(numberOf(row), row);
}

/** A change says what is different from the row we have; of a train we don't have it says everything. */
function changeTrain({ trains, elements }: LiveRows, change: TrainChange): void {
  const before = trains.get(change.train);
  trains.set(change.train, { ...before, ...change } as TrainView);
  // Whether the holder of a track is coming to its signal shows in the path alone.
  for (const { element } of change.path ? [...(before?.path ?? []), ...change.path] : [])
    elements.touch(element);
}

function appended(log: readonly LogView[], more: readonly LogView[]): readonly LogView[] {
  const last = log.at(-1)?.number ?? -1;
  return [...log, ...more.filter(({ number }) => number > last)].slice(-LOG_KEPT);
}
