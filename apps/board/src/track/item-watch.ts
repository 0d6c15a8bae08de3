import type { LiveRows } from '../live/live-rows.js';
import type { RowWatch } from '../live/row-table.js';

/** Rows by which something on the picture looks as it does: their numbers. */
export interface Shows {
  readonly sections?: readonly number[];
  readonly elements?: readonly number[];
  /** By heading. */
  readonly signals?: readonly number[];
}

const TABLES = ['sections', 'elements', 'signals'] as const;

/** Tells which of many things may look different, from the rows that changed. */
export class ItemWatch {
  readonly #tables: readonly {
    readonly watch: RowWatch;
    /** By the number of a row. Found when first asked for: a picture is there sooner than its first change. */
    readonly items: () => ReadonlyMap<number, readonly number[]>;
  }[];

  constructor(shows: readonly (Shows | undefined)[], rows: LiveRows) {
    this.#tables = TABLES.map((table) => ({
      watch: rows[table].watch(),
      items: once(() => indexBy(shows, table)),
    }));
  }

  /** Indexes of those that show a row which changed since the last time. */
  take(): ReadonlySet<number> {
    const changed = new Set<number>();
    for (const { watch, items } of this.#tables)
      for (const number of watch.take())
        for (const index of items().get(number) ?? []) changed.add(index);
    return changed;
  }

  /** Indexes of those that show these elements. */
  showing(elements: readonly (number | null)[]): readonly number[] {
    const { items } = this.#tables[TABLES.indexOf('elements')] ?? {};
    return elements.flatMap((element) => (element === null ? [] : (items?.().get(element) ?? [])));
  }

  stop(): void {
    for (const { watch } of this.#tables) watch.stop();
  }
}

function once<T>(find: () => T): () => T {
  let found: T | undefined;
  return () => (found ??= find());
}

function indexBy(
  shows: readonly (Shows | undefined)[],
  table: (typeof TABLES)[number],
): ReadonlyMap<number, readonly number[]> {
  const found = new Map<number, number[]>();
  shows.forEach((one, index) => {
    for (const number of one?.[table] ?? []) {
      const known = found.get(number);
      if (known) known.push(index);
      else found.set(number, [index]);
    }
  });
  return found;
}
