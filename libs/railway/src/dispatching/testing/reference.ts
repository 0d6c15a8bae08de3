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
  const bits = Math.floor(48 / trains);
  const numbers = new Map<number, number>();
  const states: number[] = [];
  const before: number[] = [];
  const after: number[] = [];
  const keyOf = (nodes: readonly number[]): number =>
    nodes.reduce((key, node) => {
      if (node >= 2 ** bits) throw new Error('Too many nodes to enumerate.');
      return key * 2 ** bits + node;
    }, 0);
  const numberOf = (nodes: readonly number[]): number => {
    const key = keyOf(nodes);
    let number = numbers.get(key);
    if (number === undefined) {
      number = numbers.size;
      numbers.set(key, number);
      states.push(...nodes);
    }
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
    find: (nodes) => numbers.get(keyOf(nodes)) ?? -1,
  };
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
