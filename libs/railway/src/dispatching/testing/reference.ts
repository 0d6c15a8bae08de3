import type { SafetyProblem } from '../safety-problem.js';

/** Every state that legal moves reach from a start, with its verdict. */
export interface ReferenceVerdicts {
  readonly count: number;
  /** 1 where an order to all goals exists. */
  readonly safe: Uint8Array;
  readonly safeCount: number;
  /** States without a legal move that are not all at goals. */
  readonly deadlocks: number;
  nodesOf(state: number): number[];
  /** Number of the state, or -1. */
  find(nodes: readonly number[]): number;
}

/**
 * The plainest possible answer, to hold the search against: writes down every reachable state by trying all moves,
 * then works backwards from the states with all trains at goals. Shares no code with the search. For
 * problems of up to some millions of states whose nodes are numbered below 2^(48 / trains).
 */
export function enumerate(problem: SafetyProblem, start: readonly number[]): ReferenceVerdicts {
  const trains = start.length;
  const numbers = new StateNumbers(trains);
  const states: number[] = [];
  const before: number[] = [];
  const after: number[] = [];
  const numberOf = (nodes: readonly number[]): number => {
    const known = numbers.size;
    const number = numbers.of(nodes);
    if (number === known) states.push(...nodes);
    return number;
  };

  numberOf(start);
  let deadlocks = 0;
  const goals: number[] = [];
  for (let state = 0; state < numbers.size; state += 1) {
    const nodes = states.slice(state * trains, (state + 1) * trains);
    const successors = legalSuccessors(problem, nodes).map(numberOf);
    for (const successor of successors) {
      before.push(state);
      after.push(successor);
    }
    if (nodes.every((node, train) => problem.trains[train]!.isGoal(node))) goals.push(state);
    else if (successors.length === 0) deadlocks += 1;
  }
  const safe = backwards(numbers.size, before, after, goals);
  return {
    count: numbers.size,
    safe,
    safeCount: safe.reduce((sum, one) => sum + one, 0),
    deadlocks,
    nodesOf: (state) => states.slice(state * trains, (state + 1) * trains),
    find: (nodes) => numbers.find(nodes),
  };
}

/** Numbers states in the order they are met: open addressing over the whole state, packed into one number. */
class StateNumbers {
  size = 0;
  readonly #base: number;
  #keys = new Float64Array(1 << 12).fill(-1);
  #numbers = new Int32Array(1 << 12);

  constructor(trains: number) {
    this.#base = 2 ** Math.floor(48 / trains);
  }

  of(nodes: readonly number[]): number {
    const key = this.#pack(nodes);
    const slot = this.#slot(key);
    if (this.#keys[slot] !== -1) return this.#numbers[slot]!;
    this.#keys[slot] = key;
    this.#numbers[slot] = this.size;
    this.size += 1;
    if (this.size * 2 > this.#keys.length) this.#grow();
    return this.size - 1;
  }

  find(nodes: readonly number[]): number {
    const slot = this.#slot(this.#pack(nodes));
    return this.#keys[slot] === -1 ? -1 : this.#numbers[slot]!;
  }

  #pack(nodes: readonly number[]): number {
    let key = 0;
    for (const node of nodes) {
      if (node >= this.#base) throw new Error('Too many nodes to enumerate.');
      key = key * this.#base + node;
    }
    return key;
  }

  #slot(key: number): number {
    const mask = this.#keys.length - 1;
    const mixed =
      Math.imul(Math.floor(key / 0x1000000) ^ 0x2545f491, 0x9e3779b1) ^ (key % 0x1000000);
    let slot = (Math.imul(mixed, 0x85ebca6b) >>> 7) & mask;
    while (this.#keys[slot] !== -1 && this.#keys[slot] !== key) slot = (slot + 1) & mask;
    return slot;
  }

  #grow(): void {
    const keys = this.#keys;
    const numbers = this.#numbers;
    this.#keys = new Float64Array(keys.length * 2).fill(-1);
    this.#numbers = new Int32Array(numbers.length * 2);
    keys.forEach((key, old) => {
      if (key === -1) return;
      const slot = this.#slot(key);
      this.#keys[slot] = key;
      this.#numbers[slot] = numbers[old]!;
    });
  }
}

/** The states one legal move away, straight from the definition of a legal move. */
export function legalSuccessors(problem: SafetyProblem, nodes: readonly number[]): number[][] {
  const held = nodes.map((node, train) => problem.trains[train]!.holds(node));
  return nodes.flatMap((node, train) =>
    problem.trains[train]!.moves(node)
      .filter(
        (move) =>
          !held.some(
            (theirs, other) => other !== train && theirs.some((one) => move.needs.includes(one)),
          ) && !held[train]!.some((own) => move.needsFreeOfSelf.includes(own)),
      )
      .map((move) => nodes.map((old, other) => (other === train ? move.to : old))),
  );
}

function backwards(
  count: number,
  before: readonly number[],
  after: readonly number[],
  goals: readonly number[],
): Uint8Array {
  // Predecessors grouped by successor: counting sort into one array.
  const begins = new Int32Array(count + 1);
  for (const state of after) begins[state + 1]! += 1;
  for (let state = 0; state < count; state += 1) begins[state + 1]! += begins[state]!;
  const filled = begins.slice(0, count);
  const predecessors = new Int32Array(after.length);
  after.forEach((state, edge) => {
    predecessors[filled[state]!++] = before[edge]!;
  });
  const safe = new Uint8Array(count);
  const open = goals.slice();
  for (const goal of goals) safe[goal] = 1;
  while (open.length > 0) {
    const state = open.pop()!;
    for (let edge = begins[state]!; edge < begins[state + 1]!; edge += 1) {
      const predecessor = predecessors[edge]!;
      if (safe[predecessor] === 0) {
        safe[predecessor] = 1;
        open.push(predecessor);
      }
    }
  }
  return safe;
}
