import type { ChangedRows, DeltaMessage, Rows, SnapshotMessage } from '@blockbell/contract';

/** Lines of the log a session keeps. */
const LOG_KEPT = 500;

/** The picture after a delta, as a board keeps it; throws when the delta doesn't continue from the picture. */
export function applyDelta(picture: SnapshotMessage, delta: DeltaMessage): SnapshotMessage {
  if (delta.epoch !== picture.epoch || delta.from !== picture.revision)
    throw new Error(`a delta from ${delta.from} does not continue from ${picture.revision}`);
  const { epoch, revision, now } = delta;
  return { epoch, revision, now, rows: mergeRows(picture.rows, delta.rows) };
}

function mergeRows(base: Rows, delta: ChangedRows): Rows {
  return {
    session: delta.session ?? base.session,
    sections: mergeBy(base.sections, delta.sections, ({ section }) => section),
    elements: mergeBy(base.elements, delta.elements, ({ element }) => element),
    signals: mergeBy(base.signals, delta.signals, ({ heading }) => heading),
    trains: mergeBy(base.trains, delta.trains, ({ train }) => train),
    runs: mergeBy(base.runs, delta.runs, ({ train }) => train),
    alarms: mergeBy(base.alarms, delta.alarms, ({ id }) => id),
    lineUp: delta.lineUp ?? base.lineUp,
    strangers: delta.strangers ?? base.strangers,
    log: [...(base.log ?? []), ...(delta.log ?? [])].slice(-LOG_KEPT),
  };
}

function mergeBy<Row extends Change, Change extends object>(
  older: readonly Row[] = [],
  newer: readonly Change[] = [],
  keyOf: (row: Change) => number,
): Row[] {
  const byKey = new Map(older.map((row) => [keyOf(row), row]));
  for (const row of newer) byKey.set(keyOf(row), { ...byKey.get(keyOf(row)), ...row } as Row);
  return [...byKey.entries()].sort(([a], [b]) => a - b).map(([, row]) => row);
}
