import { explain } from './dead-end.js';
import { addPattern, noPatterns, type DoomedPatterns } from './doomed-patterns.js';
import { Holdings } from './holdings.js';
import { replay } from './proven-order.js';
import type { OrderStep, SafetyProblem, SafetyVerdict } from './safety-problem.js';
import { chooseStep } from './search-choice.js';
import { followGuide, makeGuide, type SearchGuide } from './search-guide.js';
import { noPath, popStep, pushStep, type SearchPath } from './search-path.js';

/** Expansions a search may spend in all when nothing else is said. */
export const DEFAULT_SEARCH_LIMIT = 20_000;

/**
 * A search for an order that brings every train to a goal. Plain data that can be copied, stored and gone on
 * with; a search cut into slices comes to the same end as one in a single slice.
 *
 * Depth first over states. What makes it cheap is that a dead end is *explained* before it is left: by a set of
 * trains whose places alone are doomed, wherever the others are (see `dead-end.ts`). Then
 *  - moves of trains outside the set are taken back without trying their alternatives,
 *  - at the move that is to blame only moves of trains in the set are tried next,
 *  - the pattern is remembered and rules out every later state that contains it.
 * A train that can leave the railway over free track never enters such a set, so it is never branched on.
 *
 * Why "doomed" can be trusted: each remembered pattern has a train short of its goal, and each move of each of
 * its trains is either blocked by a train of the pattern or leads into a state that contains a remembered
 * pattern (or that stands on the search path; every such state is itself given a pattern before it is left). So
 * from a state with a pattern every legal order stays among such states for ever, and none of them has all
 * trains at goals. Patterns and states are compared in full, never by a hash alone. "Safe" is replayed from
 * the start before it is said.
 */
export interface Search {
  readonly limit: number;
  readonly start: readonly number[];
  readonly nodes: number[];
  readonly path: SearchPath;
  readonly guide: SearchGuide;
  readonly patterns: DoomedPatterns;
  /** Steps to take next if they are open, last first: a way looked ahead, or steps taken back blamelessly. */
  readonly intentions: OrderStep[];
  /** Trains whose present nodes are known to be doomed while the search backs out of them. */
  conflict: readonly number[];
  expansions: number;
  outcome: 'searching' | 'safe' | 'doomed' | 'exhausted';
}

const holdings = new Holdings();

/**
 * Begins a search from the given nodes, one per train.
 * @param guide an order to follow as far as it goes, such as the last proven one; may be empty or outdated
 * @param limit expansions after which the search gives up. One is one move tried, one dead end explained or a few nodes
 * looked ahead; memory is bounded by limit × trains
 */
export function beginSearch(
  problem: SafetyProblem,
  nodes: readonly number[],
  guide: readonly OrderStep[],
  limit: number = DEFAULT_SEARCH_LIMIT,
): Search {
  return {
    limit,
    start: nodes.slice(),
    nodes: nodes.slice(),
    path: noPath(nodes),
    guide: makeGuide(problem, nodes, guide),
    patterns: noPatterns(),
    intentions: [],
    conflict: [],
    expansions: 0,
    outcome: 'searching',
  };
}

/** Goes on with a search for about so many expansions, changing it in place. */
export function continueSearch(
  problem: SafetyProblem,
  search: Search,
  expansions: number,
): SafetyVerdict {
  holdings.load(problem, search.nodes);
  const until = Math.min(search.limit, search.expansions + expansions);
  while (search.outcome === 'searching' && search.expansions < until) {
    if (search.conflict.length > 0) backOut(problem, search);
    else goOn(problem, search);
  }
  if (search.outcome === 'searching' && search.expansions >= search.limit) {
    search.outcome = 'exhausted';
  }
  return verdictOf(search);
}

function goOn(problem: SafetyProblem, search: Search): void {
  const unfinished = problem.trains.findIndex(
    (train, index) => !train.isGoal(search.nodes[index]!),
  );
  if (unfinished < 0) {
    confirm(problem, search);
    return;
  }
  const step = chooseStep(problem, search, holdings);
  if (step === undefined) {
    blame(problem, search, unfinished);
  } else {
    advance(problem, search, step);
  }
}

/** Takes a step; a train that is then caught in a knot is noticed at once rather than after all others have run. */
function advance(problem: SafetyProblem, search: Search, { train, to }: OrderStep): void {
  search.expansions += 1;
  pushStep(search.path, search.nodes, train, to, search.guide.cursors[train]!);
  followGuide(search.guide, train, to);
  holdings.place(train, to);
  if (!problem.trains[train]!.isGoal(to)) {
    const found = explain(problem, search, holdings, train);
    if (found.kind === 'doomed') enterConflict(search, found.trains);
  }
}

function backOut(problem: SafetyProblem, search: Search): void {
  const undone = popStep(search.path, search.nodes);
  if (undone === undefined) {
    search.outcome = 'doomed';
    return;
  }
  const { train, from, to, cursor } = undone;
  search.guide.cursors[train] = cursor;
  holdings.place(train, from);
  if (search.conflict.includes(train)) {
    const seed = problem.trains[train]!.isGoal(from)
      ? problem.trains.findIndex((graph, index) => !graph.isGoal(search.nodes[index]!))
      : train;
    blame(problem, search, seed);
  } else {
    search.intentions.push({ train, to });
  }
}

/** Finds a move that a train concerned could still make here, or why there is none. */
function blame(problem: SafetyProblem, search: Search, seed: number): void {
  search.expansions += 1;
  const found = explain(problem, search, holdings, seed);
  if (found.kind === 'doomed') {
    enterConflict(search, found.trains);
  } else {
    search.conflict = [];
    advance(problem, search, found.step);
  }
}

function enterConflict(search: Search, trains: readonly number[]): void {
  addPattern(search.patterns, trains, search.nodes);
  search.conflict = trains;
}

function confirm(problem: SafetyProblem, search: Search): void {
  if (!replay(problem, search.start, orderOf(search))) {
    throw new Error('Safety search found an order that does not replay.');
  }
  search.outcome = 'safe';
}

function orderOf(search: Search): OrderStep[] {
  return search.path.trains.map((train, step) => ({ train, to: search.path.to[step]! }));
}

function verdictOf(search: Search): SafetyVerdict {
  switch (search.outcome) {
    case 'safe':
      return { kind: 'safe', order: orderOf(search) };
    case 'exhausted':
      return { kind: 'exhausted', expansions: search.expansions };
    default:
      return { kind: search.outcome };
  }
}
