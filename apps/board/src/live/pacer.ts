/** Tells what changed in a table a little at a time, what changed first before what changed later. */
export class Pacer<Row> {
  readonly #told = new Map<number, Row>();
  /** Numbers of rows to be told, in the order in which they changed. */
  readonly #waiting = new Set<number>();

  /** `isSame`: whether there is nothing to tell where one row took another's place. */
  constructor(readonly isSame: (one: Row, other: Row) => boolean) {}

  /** At most so many rows to tell now; null for one that is gone. */
  take(rows: ReadonlyMap<number, Row>, most: number): readonly (readonly [number, Row | null])[] {
    for (const [number, row] of rows) {
      const told = this.#told.get(number);
      if (told === row) continue;
      if (told !== undefined && this.isSame(told, row)) this.#told.set(number, row);
      else this.#waiting.add(number);
    }
    for (const number of this.#told.keys()) if (!rows.has(number)) this.#waiting.add(number);
    const taken: (readonly [number, Row | null])[] = [];
    for (const number of this.#waiting) {
      if (taken.length >= most) break;
      this.#waiting.delete(number);
      const row = rows.get(number);
      if (row === undefined) this.#told.delete(number);
      else this.#told.set(number, row);
      taken.push([number, row ?? null]);
    }
    return taken;
  }

  /** How many rows were left over. */
  get left(): number {
    return this.#waiting.size;
  }
}
