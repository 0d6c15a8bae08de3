import { snapshotMessage } from '@blockbell/contract/messages';
import type { SnapshotMessage } from '@blockbell/contract/messages';

/** Tables that may have thousands of rows. */
const LONG = ['sections', 'elements', 'signals'] as const;
/** So many rows of each are checked before the snapshot is shown, and at a time after that. */
const FIRST = 50;
const STEP = 300;

export interface ReadSnapshot {
  readonly snapshot: SnapshotMessage;
  /** Checks some more rows: whether any are left, or `null` where one is not as agreed. */
  readonly checkOn: () => boolean | null;
}

/**
 * Reads a snapshot; null where it is not as agreed. A server makes all rows of a table alike, so the long ones are checked in part
 * at first, and their other rows with {@link ReadSnapshot.checkOn}: the picture need not wait for thousands of them.
 */
export function readSnapshot(message: unknown): ReadSnapshot | null {
  const all: Tables = Object(Object(message).rows);
  const long = longTables(all, 0, Infinity);
  const { success, data } = snapshotMessage.safeParse({
    ...Object(message),
    rows: { ...all, ...longTables(all, 0, FIRST) },
  });
  if (!success) return null;
  let from = FIRST;
  const checkOn = (): boolean | null => {
    const some = longTables(all, from, from + STEP);
    from += STEP;
    if (!snapshotMessage.safeParse({ ...data, rows: some }).success) return null;
    return LONG.some((name) => (long[name]?.length ?? 0) > from);
  };
  return { snapshot: { ...data, rows: { ...data.rows, ...long } }, checkOn };
}

type Tables = Readonly<Record<string, unknown>>;
type LongTables = Pick<SnapshotMessage['rows'], (typeof LONG)[number]>;

/** A part of the rows of each long table, as they came. */
const longTables = (tables: Tables, from: number, to: number): LongTables =>
  Object.fromEntries(
    LONG.flatMap((name) => {
      const table = tables[name];
      return Array.isArray(table) ? [[name, table.slice(from, to)]] : [];
    }),
  );
