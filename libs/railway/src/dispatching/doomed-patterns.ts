/**
 * Patterns known to be doomed: some trains at certain nodes, from where they can't all reach a goal wherever
 * the other trains are. One pattern rules out every state that contains it, so that a small knot is found
 * once, not once for each place of every train that has nothing to do with it.
 *
 * Each pattern is filed under one of its entries (a train at a node) that is not true in the present state. It
 * can only come true by a move that makes that very entry true, so a move is checked against the few patterns
 * filed under where it leads, not against all. When an entry comes true, what is filed under it is filed anew.
 *
 * Plain arrays of numbers: the store is part of a search and a search is part of a state. Patterns are
 * compared in full; hashes only find candidates.
 */
export interface DoomedPatterns {
  /** Entries of all patterns one after another. */
  readonly trains: number[];
  readonly nodes: number[];
  /** Where each pattern's entries begin; one more at the end. */
  readonly starts: number[];
  /** For each pattern, 1 when it holds only together with what is still to be tried on the present path. */
  readonly tied: number[];
  /** The pattern filed under the same entry before this one, plus one; 0 for none. */
  readonly next: number[];
  /** Open addressing over entries: train plus one (0 is empty), node, and newest pattern filed there plus one. */
  readonly slotTrains: number[];
  readonly slotNodes: number[];
  readonly slotPatterns: number[];
  /** Occupied slots. */
  used: number;
}

const FIRST_SLOTS = 64;

const NO_TRAIN = -1;

export function noPatterns(): DoomedPatterns {
  return {
    trains: [],
    nodes: [],
    starts: [0],
    tied: [],
    next: [],
    slotTrains: zeros(FIRST_SLOTS),
    slotNodes: zeros(FIRST_SLOTS),
    slotPatterns: zeros(FIRST_SLOTS),
    used: 0,
  };
}

/**
 * Remembers that the listed trains at the given nodes are doomed.
 * @param filed the train whose entry is not true now
 */
export function addPattern(
  store: DoomedPatterns,
  trains: readonly number[],
  nodeOf: (train: number) => number,
  filed: number,
  tied: boolean,
): void {
  const pattern = store.tied.length;
  for (const train of trains) {
    store.trains.push(train);
    store.nodes.push(nodeOf(train));
  }
  store.starts.push(store.trains.length);
  store.tied.push(tied ? 1 : 0);
  store.next.push(0);
  file(store, pattern, filed, nodeOf(filed));
}

/** Files anew what was filed under an entry that has just come true. Call after every move, forwards or back. */
export function refilePatterns(
  store: DoomedPatterns,
  nodes: readonly number[],
  train: number,
): void {
  const slot = slotOf(store, train, nodes[train]!);
  let link = store.slotPatterns[slot]!;
  store.slotPatterns[slot] = 0;
  while (link !== 0) {
    const pattern = link - 1;
    link = store.next[pattern]!;
    fileAnew(store, pattern, nodes, train);
  }
}

/**
 * Files a pattern under an entry that is not true. A state of the path may have come to contain it, when a train
 * goes in circles; then any entry will do, at worst the pattern is found a second time.
 */
function fileAnew(
  store: DoomedPatterns,
  pattern: number,
  nodes: readonly number[],
  arrived: number,
): void {
  const untrue = firstUntrue(store, pattern, nodes, arrived);
  const entry = untrue < 0 ? store.starts[pattern]! : untrue;
  file(store, pattern, store.trains[entry]!, store.nodes[entry]!);
}

/** A pattern that the state contains once `train` stands at `to`, or -1. */
export function matchingPattern(
  store: DoomedPatterns,
  nodes: readonly number[],
  train: number,
  to: number,
): number {
  let link = store.slotPatterns[slotOf(store, train, to)]!;
  while (link !== 0) {
    if (firstUntrue(store, link - 1, nodes, train) < 0) return link - 1;
    link = store.next[link - 1]!;
  }
  return -1;
}

/** The trains of a pattern. */
export function trainsOfPattern(store: DoomedPatterns, pattern: number): readonly number[] {
  return store.trains.slice(store.starts[pattern], store.starts[pattern + 1]);
}

/** The store without the patterns that hold only on the present path. */
export function untiedPatterns(store: DoomedPatterns, nodes: readonly number[]): DoomedPatterns {
  if (!store.tied.includes(1)) return store;
  const untied = noPatterns();
  for (let pattern = 0; pattern < store.tied.length; pattern += 1) {
    if (store.tied[pattern] === 1) continue;
    for (let entry = store.starts[pattern]!; entry < store.starts[pattern + 1]!; entry += 1) {
      untied.trains.push(store.trains[entry]!);
      untied.nodes.push(store.nodes[entry]!);
    }
    untied.starts.push(untied.trains.length);
    untied.tied.push(0);
    untied.next.push(0);
    fileAnew(untied, untied.tied.length - 1, nodes, NO_TRAIN);
  }
  return untied;
}

/** A 32-bit mixture of a train and its node, for finding candidates only. */
export function mixPair(train: number, node: number): number {
  let mixed = Math.imul(train + 1, 0x9e3779b1) ^ Math.imul(node + 1, 0x85ebca6b);
  mixed = Math.imul(mixed ^ (mixed >>> 15), 0x2c1b3c6d);
  mixed = Math.imul(mixed ^ (mixed >>> 12), 0x297a2d39);
  return (mixed ^ (mixed >>> 15)) >>> 0;
}

/** Place of the first entry of a pattern that is not true, that of one train left out; -1 when all are. */
function firstUntrue(
  store: DoomedPatterns,
  pattern: number,
  nodes: readonly number[],
  except: number,
): number {
  const end = store.starts[pattern + 1]!;
  for (let entry = store.starts[pattern]!; entry < end; entry += 1) {
    const train = store.trains[entry]!;
    if (train !== except && nodes[train] !== store.nodes[entry]) return entry;
  }
  return -1;
}

function file(store: DoomedPatterns, pattern: number, train: number, node: number): void {
  let slot = slotOf(store, train, node);
  if (store.slotTrains[slot] === 0) {
    if ((store.used + 1) * 2 > store.slotTrains.length) {
      growSlots(store);
      slot = slotOf(store, train, node);
    }
    store.used += 1;
    store.slotTrains[slot] = train + 1;
    store.slotNodes[slot] = node;
  }
  store.next[pattern] = store.slotPatterns[slot]!;
  store.slotPatterns[slot] = pattern + 1;
}

function slotOf(store: DoomedPatterns, train: number, node: number): number {
  const { slotTrains, slotNodes } = store;
  const mask = slotTrains.length - 1;
  let slot = mixPair(train, node) & mask;
  while (slotTrains[slot] !== 0 && (slotTrains[slot] !== train + 1 || slotNodes[slot] !== node)) {
    slot = (slot + 1) & mask;
  }
  return slot;
}

function growSlots(store: DoomedPatterns): void {
  const trains = store.slotTrains.slice();
  const nodes = store.slotNodes.slice();
  const patterns = store.slotPatterns.slice();
  for (const array of [store.slotTrains, store.slotNodes, store.slotPatterns]) {
    array.length = 0;
    array.push(...zeros(trains.length * 2));
  }
  trains.forEach((train, old) => {
    if (train === 0) return;
    const slot = slotOf(store, train - 1, nodes[old]!);
    store.slotTrains[slot] = train;
    store.slotNodes[slot] = nodes[old]!;
    store.slotPatterns[slot] = patterns[old]!;
  });
}

function zeros(length: number): number[] {
  return new Array<number>(length).fill(0);
}
