import { matchingPattern, mixPair } from './doomed-patterns.js';
import { HeadOnTable } from './head-on-table.js';
import { UNBLOCKED, type Holdings } from './holdings.js';
import type { OrderStep, SafetyProblem } from './safety-problem.js';
import type { Search } from './safety-search.js';

/** Nodes looked at that count as one expansion. */
const NODES_PER_EXPANSION = 32;

interface Place {
  readonly node: number;
  /** Place it was reached from, or -1. */
  readonly before: number;
}

const headOns = new HeadOnTable();

/** To be called before the first look ahead of a slice: nothing remembered outside the state may count. */
export function prepareLookAhead(problem: SafetyProblem): void {
  headOns.clear(problem);
}

/**
 * A way for one train while all others stand still: to its goal if one has a clear run; otherwise as far as a
 * place where it will not stand head to head with a train that must come past. Empty when there is none.
 */
export function lookAhead(
  problem: SafetyProblem,
  search: Search,
  holdings: Holdings,
): readonly OrderStep[] {
  const trains = unfinished(problem, search);
  const furthest: OrderStep[][] = [];
  for (const train of trains) {
    const way = clearRun(problem, search, holdings, train);
    if (way.length > 0 && problem.trains[train]!.isGoal(way.at(-1)!.to)) return way;
    furthest.push(way);
  }
  headOns.load(problem, search.nodes);
  for (const way of furthest) {
    for (let length = way.length; length > 0; length -= 1) {
      const { train, to } = way[length - 1]!;
      if (!headOns.threatens(problem, train, to)) return way.slice(0, length);
    }
  }
  return [];
}

/** Trains to look at in turn: the nearest to its goal first, in later attempts any. */
function unfinished(problem: SafetyProblem, { nodes, attempt }: Search): number[] {
  const keys = nodes.map((node, train) =>
    attempt <= 2 ? problem.trains[train]!.distance(node) : mixPair(train, attempt),
  );
  return nodes
    .map((_, train) => train)
    .filter((train) => !problem.trains[train]!.isGoal(nodes[train]!))
    .sort((a, b) => keys[a]! - keys[b]! || a - b);
}

/** The way to the first goal found over what no other train holds, or to the place nearest to one. */
function clearRun(
  problem: SafetyProblem,
  search: Search,
  holdings: Holdings,
  train: number,
): OrderStep[] {
  const graph = problem.trains[train]!;
  const start = search.nodes[train]!;
  const places: Place[] = [{ node: start, before: -1 }];
  const seen = new Set<number>();
  const open = [0];
  let nearest = 0;
  let distance = graph.distance(start);
  while (open.length > 0) {
    const at = open.pop()!;
    const { node } = places[at]!;
    if (seen.has(node)) continue;
    seen.add(node);
    if (graph.distance(node) < distance) {
      nearest = at;
      distance = graph.distance(node);
    }
    if (at > 0 && graph.isGoal(node)) {
      nearest = at;
      break;
    }
    const moves = graph.moves(node);
    for (let index = moves.length - 1; index >= 0; index -= 1) {
      const move = moves[index]!;
      if (
        !seen.has(move.to) &&
        holdings.blockerOf(train, node, move) === UNBLOCKED &&
        matchingPattern(search.patterns, search.nodes, train, move.to) < 0
      ) {
        open.push(places.length);
        places.push({ node: move.to, before: at });
      }
    }
  }
  search.expansions += Math.floor(seen.size / NODES_PER_EXPANSION);
  return wayTo(places, nearest, train);
}

function wayTo(places: readonly Place[], end: number, train: number): OrderStep[] {
  const way: OrderStep[] = [];
  for (let at = end; at > 0; at = places[at]!.before) way.push({ train, to: places[at]!.node });
  return way.reverse();
}
