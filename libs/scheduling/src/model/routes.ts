import type { Train } from '../problem/problem.js';

/** Literals that say which path a train takes. */
export interface Routes {
  /** Literal by operation: the path has it. */
  readonly presence: readonly number[];
  /** Literal by operation and successor: the path goes that way. */
  readonly ways: readonly (readonly number[])[];
  /** By operation, those it may follow. */
  readonly before: readonly (readonly number[])[];
  readonly spans: readonly Span[];
  readonly clauses: readonly (readonly number[])[];
}

/** Two operations, one of which comes after the other when the path has both, and the least time between them. */
interface Span {
  readonly from: number;
  readonly to: number;
  readonly least: number;
}

/**
 * @param always the literal that is always true
 * @param newLiteral makes a variable and returns the literal that says yes
 */
export function compileRoutes(train: Train, always: number, newLiteral: () => number): Routes {
  const before: number[][] = train.map(() => []);
  train.forEach(({ successors }, u) => successors.forEach((v) => before[v]!.push(u)));
  const after = train.map(({ successors }) => successors);
  const last = train.length - 1;
  const dominator = dominators(train.length, (i) => i, before);
  const postDominator = dominators(train.length, (i) => last - i, after);

  const clauses: number[][] = [];
  const presence: number[] = [always];
  for (let v = 1; v < train.length; v++) {
    const u = dominator[v]!;
    // Every path has both or neither.
    const together = postDominator[u] === v;
    presence.push(together ? presence[u]! : newLiteral());
  }
  const ways = train.map(({ successors }, u) =>
    successors.map((v) => {
      if (successors.length === 1) return presence[u]!;
      return before[v]!.length === 1 ? presence[v]! : newLiteral();
    }),
  );
  const exactlyOne = (whole: number, parts: readonly number[]): void => {
    if (parts.length === 1 && parts[0] === whole) return;
    clauses.push([whole ^ 1, ...parts]);
    parts.forEach((part, i) => {
      clauses.push([part ^ 1, whole]);
      for (const other of parts.slice(0, i)) clauses.push([part ^ 1, other ^ 1]);
    });
  };
  train.forEach(({ successors }, u) => {
    if (successors.length > 0) exactlyOne(presence[u]!, ways[u]!);
    if (u > 0)
      exactlyOne(
        presence[u]!,
        before[u]!.map((from) => ways[from]![after[from]!.indexOf(u)]!),
      );
  });
  const certain = presence.map((literal) => literal === always);
  const spans = train.flatMap((_, from) => spansFrom(train, from, certain));
  return { presence, ways, before, spans, clauses };
}

/** Immediate dominator of each node of a graph with one start, its nodes given in topological order by `nodeAt`. */
function dominators(
  size: number,
  nodeAt: (rank: number) => number,
  before: readonly (readonly number[])[],
): number[] {
  const rank: number[] = [];
  for (let r = 0; r < size; r++) rank[nodeAt(r)] = r;
  const result: number[] = new Array<number>(size).fill(-1);
  result[nodeAt(0)] = nodeAt(0);
  for (let r = 1; r < size; r++) {
    const node = nodeAt(r);
    let common = -1;
    for (const other of before[node]!) {
      if (common < 0) {
        common = other;
        continue;
      }
      let walker = other;
      while (walker !== common) {
        if (rank[walker]! > rank[common]!) walker = result[walker]!;
        else common = result[common]!;
      }
    }
    result[node] = common;
  }
  return result;
}

/**
 * Spans from an operation to those behind it between which no operation is bound to come. Through them trains that
 * wait for one another are seen while their paths between are still open.
 */
function spansFrom(train: Train, from: number, certain: readonly boolean[]): Span[] {
  if (train[from]!.successors.length < 2) return [];
  const least = new Map([[from, 0]]);
  const spans: Span[] = [];
  for (let v = from; v < train.length; v++) {
    const time = least.get(v);
    if (time === undefined) continue;
    if (v > from && !hasBottleneck(train, from, v)) spans.push({ from, to: v, least: time });
    // What lies behind an operation that every path has is reached through it.
    if (v > from && certain[v]) continue;
    for (const next of train[v]!.successors) {
      const arrival = time + train[v]!.minDuration;
      if (arrival < (least.get(next) ?? Infinity)) least.set(next, arrival);
    }
  }
  return spans;
}

/** Whether every path between two operations comes by a third; also true when the one leads to the other only directly. */
function hasBottleneck(train: Train, from: number, to: number): boolean {
  const reaches = new Uint8Array(to + 1);
  reaches[to] = 1;
  for (let u = to - 1; u >= from; u--) {
    if (train[u]!.successors.some((v) => v <= to && reaches[v] === 1)) reaches[u] = 1;
  }
  const reached = new Uint8Array(to + 1);
  reached[from] = 1;
  let farthest = from;
  let direct = true;
  for (let u = from; u < to; u++) {
    if (reached[u] === 0 || reaches[u] === 0) continue;
    if (u > from) {
      direct = false;
      if (farthest === u) return true;
    }
    for (const v of train[u]!.successors) {
      if (v > to || reaches[v] === 0) continue;
      reached[v] = 1;
      farthest = Math.max(farthest, v);
    }
  }
  return direct;
}
