/** Where readers of a table are told that something in it changed. */
export interface TableSignal {
  /** Somebody reads; they are to be told of the next change. */
  read(): void;
  changed(): void;
}

const NOBODY: TableSignal = { read: () => {}, changed: () => {} };

/** Which rows changed. */
export interface RowWatch {
  /** Numbers of those that did since they were last taken; who takes them is told of the next change. */
  take(): ReadonlySet<number>;
  stop(): void;
}

/**
 * A table of thousands of rows by their numbers. Whoever reads any row of it is told when another changes, which suits few
 * readers of single rows; who shows all of them {@link watch}es, and learns which ones changed.
 */
export class RowTable<Row> {
  readonly #rows = new Map<number, Row>();
  readonly #watched = new Set<Set<number>>();
  /** Whether anybody has read since readers were last told. */
  #isRead = true;
  #areNumbersRead = true;

  /** `numbers`: told only when a number comes or goes. */
  constructor(
    private readonly signal: TableSignal = NOBODY,
    private readonly numbers: TableSignal = NOBODY,
  ) {}

  get(number: number): Row | undefined {
    this.#read();
    return this.#rows.get(number);
  }

  values(): Iterable<Row> {
    this.#read();
    return this.#rows.values();
  }

  keys(): Iterable<number> {
    this.#areNumbersRead = true;
    this.numbers.read();
    return this.#rows.keys();
  }

  get size(): number {
    this.#areNumbersRead = true;
    this.numbers.read();
    return this.#rows.size;
  }

  set(number: number, row: Row): void {
    if (!this.#rows.has(number)) this.#numbersChanged();
    this.#rows.set(number, row);
    this.touch(number);
  }

  /** What is shown of a row changed, though the row did not. */
  touch(number: number): void {
    for (const changed of this.#watched) changed.add(number);
    if (!this.#isRead) return;
    this.#isRead = false;
    this.signal.changed();
  }

  clear(): void {
    const numbers = [...this.#rows.keys()];
    this.#rows.clear();
    if (numbers.length > 0) this.#numbersChanged();
    for (const number of numbers) this.touch(number);
  }

  /** Notes which rows change from now on. */
  watch(): RowWatch {
    let changed = new Set<number>();
    this.#watched.add(changed);
    return {
      take: () => {
        this.#read();
        const taken = changed;
        if (taken.size > 0 && this.#watched.delete(taken)) {
          changed = new Set();
          this.#watched.add(changed);
        }
        return taken;
      },
      stop: () => {
        this.#watched.delete(changed);
      },
    };
  }

  #read(): void {
    this.#isRead = true;
    this.signal.read();
  }

  #numbersChanged(): void {
    if (!this.#areNumbersRead) return;
    this.#areNumbersRead = false;
    this.numbers.changed();
  }
}
