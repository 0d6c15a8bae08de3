import { mixPair } from './doomed-patterns.js';

/**
 * The steps from the start of a search to where it is, with the states they passed, as plain data. The states are
 * found again by hash and then compared in full, by walking the path back.
 */
export interface SearchPath {
  readonly trains: number[];
  readonly from: number[];
  readonly to: number[];
  /** The train's guide cursor before each step. */
  readonly cursors: number[];
  /** Hash of the state before each step, and of the present one last. */
  readonly hashes: number[];
  /** Open addressing over those hashes: position plus one; 0 is empty. */
  readonly slots: number[];
}

export interface UndoneStep {
  readonly train: number;
  readonly from: number;
  readonly to: number;
  readonly cursor: number;
}

const FIRST_SLOTS = 64;

export function noPath(nodes: readonly number[]): SearchPath {
  const path: SearchPath = {
    trains: [],
    from: [],
    to: [],
    cursors: [],
    hashes: [],
    slots: new Array<number>(FIRST_SLOTS).fill(0),
  };
  pushHash(
    path,
    nodes.reduce((hash, node, train) => (hash ^ mixPair(train, node)) >>> 0, 0),
  );
  return path;
}

/** Takes a step, changing `nodes`. */
export function pushStep(
  path: SearchPath,
  nodes: number[],
  train: number,
  to: number,
  cursor: number,
): void {
  const from = nodes[train]!;
  const hash = hashAfter(path, from, train, to);
  path.trains.push(train);
  path.from.push(from);
  path.to.push(to);
  path.cursors.push(cursor);
  pushHash(path, hash);
  nodes[train] = to;
}

/** Takes the last step back, changing `nodes`; undefined at the start. */
export function popStep(path: SearchPath, nodes: number[]): UndoneStep | undefined {
  const train = path.trains.pop();
  if (train === undefined) return undefined;
  const step = { train, from: path.from.pop()!, to: path.to.pop()!, cursor: path.cursors.pop()! };
  // The newest hash is always the last in its probe chain, so that emptying its slot breaks no other.
  const position = path.hashes.length;
  path.slots[slotWith(path, path.hashes[position - 1]!, position)] = 0;
  path.hashes.pop();
  nodes[train] = step.from;
  return step;
}

/** Whether the path has already been in the state that the move leads to. */
export function onPath(
  path: SearchPath,
  nodes: readonly number[],
  train: number,
  to: number,
): boolean {
  const hash = hashAfter(path, nodes[train]!, train, to);
  const mask = path.slots.length - 1;
  for (let slot = hash & mask; path.slots[slot] !== 0; slot = (slot + 1) & mask) {
    const position = path.slots[slot]! - 1;
    if (path.hashes[position] === hash && isState(path, position, nodes, train, to)) return true;
  }
  return false;
}

function isState(
  path: SearchPath,
  position: number,
  nodes: readonly number[],
  moved: number,
  to: number,
): boolean {
  const then = nodes.slice();
  for (let step = path.trains.length - 1; step >= position; step -= 1) {
    then[path.trains[step]!] = path.from[step]!;
  }
  return then.every((node, train) => node === (train === moved ? to : nodes[train]));
}

function hashAfter(path: SearchPath, from: number, train: number, to: number): number {
  return (path.hashes.at(-1)! ^ mixPair(train, from) ^ mixPair(train, to)) >>> 0;
}

function pushHash(path: SearchPath, hash: number): void {
  path.hashes.push(hash);
  if (path.hashes.length * 2 > path.slots.length) {
    const size = path.slots.length * 2;
    path.slots.length = 0;
    for (let slot = 0; slot < size; slot += 1) path.slots.push(0);
    path.hashes.forEach((old, position) => {
      path.slots[slotWith(path, old, 0)] = position + 1;
    });
  } else {
    path.slots[slotWith(path, hash, 0)] = path.hashes.length;
  }
}

/** The slot in the hash's probe chain that contains the link; 0 finds the first empty one. */
function slotWith(path: SearchPath, hash: number, link: number): number {
  const mask = path.slots.length - 1;
  let slot = hash & mask;
  while (path.slots[slot] !== link) slot = (slot + 1) & mask;
  return slot;
}
