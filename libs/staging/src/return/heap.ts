/** A number in a heap, with what decides when it comes: the lowest first, of equals the one that has come further, then the older. */
interface Entry {
  readonly item: number;
  readonly rank: number;
  readonly depth: number;
}

const comesBefore = (a: Entry, b: Entry): boolean =>
  a.rank !== b.rank ? a.rank < b.rank : a.depth !== b.depth ? a.depth > b.depth : a.item < b.item;

/** Numbers by rank; of those of equal rank the deepest first. */
export class Heap {
  readonly #entries: Entry[] = [];

  push(item: number, rank: number, depth: number): void {
    const entries = this.#entries;
    const entry = { item, rank, depth };
    let at = entries.push(entry) - 1;
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (!comesBefore(entry, entries[above]!)) break;
      entries[at] = entries[above]!;
      at = above;
    }
    entries[at] = entry;
  }

  pop(): number | undefined {
    const entries = this.#entries;
    const [first] = entries;
    const last = entries.pop();
    if (first === undefined || last === undefined || entries.length === 0) return first?.item;
    let at = 0;
    for (;;) {
      let below = 2 * at + 1;
      if (below >= entries.length) break;
      if (below + 1 < entries.length && comesBefore(entries[below + 1]!, entries[below]!)) below++;
      if (!comesBefore(entries[below]!, last)) break;
      entries[at] = entries[below]!;
      at = below;
    }
    entries[at] = last;
    return first.item;
  }
}
