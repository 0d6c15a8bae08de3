/**
 * Patterns known to be doomed: some trains at certain nodes, from where they can't all reach a goal wherever
 * the other trains are. One pattern rules out every state that contains it, so that a small knot is found
 * once, not once for each place of every train that has nothing to do with it.
 *
 * Plain arrays of numbers: the store is part of a search and a search is part of a state. Patterns are
 * compared in full; the hash only finds candidates.
 */
export interface DoomedPatterns {
  /** Entries of all patterns one after another: a train, its node, the pattern, the next entry in its chain. */
  readonly trains: number[];
  readonly nodes: number[];
  readonly pattern: number[];
  readonly next: number[];
  /** Where each pattern's entries begin; one more at the end. */
  readonly starts: number[];
  /** For each pattern, 1 when it holds only together with what is still to be tried on the present path. */
  readonly tied: number[];
  /** Open addressing over (train, node): the newest entry with that pair plus one; 0 is empty. */
  readonly slots: number[];
  /** Occupied slots. */
  used: number;
}

const FIRST_SLOTS = 64;

export function noPatterns(): DoomedPatterns {
  return {
    trains: [],
    nodes: [],
    pattern: [],
    next: [],
    starts: [0],
    tied: [],
    slots: new Array<number>(FIRST_SLOTS).fill(0),
    used: 0,
  };
}

/** Remembers that the listed trains at their present nodes are doomed. */
export function addPattern(
  store: DoomedPatterns,
  trains: readonly number[],
  nodes: readonly number[],
  tied: boolean,
): void {
  const pattern = store.starts.length - 1;
  for (const train of trains) {
    if ((store.used + 1) * 2 > store.slots.length) growSlots(store);
    const entry = store.trains.length;
    const node = nodes[train]!;
    const slot = slotOf(store, train, node);
    const newest = store.slots[slot]!;
    if (newest === 0) store.used += 1;
    store.trains.push(train);
    store.nodes.push(node);
    store.pattern.push(pattern);
    store.next.push(newest);
    store.slots[slot] = entry + 1;
  }
  store.starts.push(store.trains.length);
  store.tied.push(tied ? 1 : 0);
}

/** The patterns that hold whatever the path. */
export function untiedPatterns(store: DoomedPatterns): DoomedPatterns {
  if (!store.tied.includes(1)) return store;
  const untied = noPatterns();
  store.tied.forEach((tied, pattern) => {
    if (tied === 1) return;
    const nodes: number[] = [];
    const trains = trainsOfPattern(store, pattern);
    trains.forEach((train, index) => {
      nodes[train] = store.nodes[store.starts[pattern]! + index]!;
    });
    addPattern(untied, trains, nodes, false);
  });
  return untied;
}

/** The newest pattern that the state contains once `train` stands at `to`, or -1. Only patterns with that train at that node. */
export function matchingPattern(
  store: DoomedPatterns,
  nodes: readonly number[],
  train: number,
  to: number,
): number {
  let link = store.slots[slotOf(store, train, to)]!;
  while (link !== 0) {
    const pattern = store.pattern[link - 1]!;
    if (contains(store, pattern, nodes, train)) return pattern;
    link = store.next[link - 1]!;
  }
  return -1;
}

/** The trains of a pattern. */
export function trainsOfPattern(store: DoomedPatterns, pattern: number): readonly number[] {
  return store.trains.slice(store.starts[pattern], store.starts[pattern + 1]);
}

function contains(
  store: DoomedPatterns,
  pattern: number,
  nodes: readonly number[],
  moved: number,
): boolean {
  const end = store.starts[pattern + 1]!;
  for (let entry = store.starts[pattern]!; entry < end; entry += 1) {
    const train = store.trains[entry]!;
    if (train !== moved && nodes[train] !== store.nodes[entry]) return false;
  }
  return true;
}

function slotOf(store: DoomedPatterns, train: number, node: number): number {
  const mask = store.slots.length - 1;
  let slot = mixPair(train, node) & mask;
  for (;;) {
    const link = store.slots[slot]!;
    if (link === 0 || (store.trains[link - 1] === train && store.nodes[link - 1] === node)) {
      return slot;
    }
    slot = (slot + 1) & mask;
  }
}

function growSlots(store: DoomedPatterns): void {
  const old = store.slots.slice();
  store.slots.length = 0;
  for (let slot = 0; slot < old.length * 2; slot += 1) store.slots.push(0);
  for (const link of old) {
    if (link !== 0) {
      store.slots[slotOf(store, store.trains[link - 1]!, store.nodes[link - 1]!)] = link;
    }
  }
}

/** A 32-bit mixture of a train and its node, for finding candidates only. */
export function mixPair(train: number, node: number): number {
  let mixed = Math.imul(train + 1, 0x9e3779b1) ^ Math.imul(node + 1, 0x85ebca6b);
  mixed = Math.imul(mixed ^ (mixed >>> 15), 0x2c1b3c6d);
  mixed = Math.imul(mixed ^ (mixed >>> 12), 0x297a2d39);
  return (mixed ^ (mixed >>> 15)) >>> 0;
}
