import type { ClearRun } from './clear-run.js';
import { explain, type DeadEnd } from './dead-end.js';
import {
  addPattern,
  noPatterns,
  refilePatterns,
  untiedPatterns,
  type DoomedPatterns,
} from './doomed-patterns.js';
import { Holdings } from './holdings.js';
import { beginSurvey, goOnSurveying, prepareLookAhead, type Survey } from './look-ahead.js';
import { replay } from './proven-order.js';
import type { OrderStep, SafetyProblem, SafetyVerdict } from './safety-problem.js';
import { anyStep, knownStep } from './search-choice.js';
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
 * pattern (or that stands on the search path; every such state is itself given a pattern before it is left, and
 * when the path is given up, patterns that rest on it are forgotten). So from a state with a pattern every legal order stays among such states for ever, and none of them has all
 * trains at goals. Patterns and states are compared in full, never by a hash alone. "Safe" is replayed from
 * the start before it is said.
 */
export interface Search {
  readonly limit: number;
  readonly start: readonly number[];
  readonly nodes: number[];
  readonly path: SearchPath;
  readonly guide: SearchGuide;
  patterns: DoomedPatterns;
  /** Number of the present attempt, from 1. */
  attempt: number;
  /** Dead ends left until the search starts afresh, wiser by the patterns found. */
  patience: number;
  /** Steps to take next if they are open, last first: a way looked ahead, or steps taken back blamelessly. */
  readonly intentions: OrderStep[];
  /** For each train, its last run that reached no goal. */
  readonly runs: (ClearRun | null)[];
  /** A look ahead in progress. */
  survey: Survey | null;
  /** Trains whose present nodes are known to be doomed, while the search backs out of them. */
  conflict: DeadEnd | null;
  /** Work done: dead ends explained, moves made and nodes looked ahead, each at its measured worth. */
  effort: number;
  /** The same in whole expansions, as budgets count it. */
  expansions: number;
  outcome: 'searching' | 'safe' | 'doomed' | 'exhausted';
}

/** Effort in one expansion; a node looked ahead is an effort of one. */
const EXPANSION_EFFORT = 16;
const MOVE_EFFORT = 2;
const EXPLANATION_EFFORT = 16;

/** Dead ends of the shortest attempts. */
const PATIENCE_UNIT = 32;

const holdings = new Holdings();

/**
 * Begins a search from the given nodes, one per train.
 * @param guide an order to follow as far as it goes, such as the last proven one; may be empty or outdated
 * @param limit expansions after which the search gives up; memory is bounded by limit × trains. One expansion is one dead
 * end explained, eight moves made or sixteen nodes looked ahead
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
    attempt: 1,
    patience: patienceOf(1),
    intentions: [],
    runs: nodes.map(() => null),
    survey: null,
    conflict: null,
    effort: 0,
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
  prepareLookAhead(problem);
  const limit = search.limit * EXPANSION_EFFORT;
  const until = Math.min(limit, search.effort + expansions * EXPANSION_EFFORT);
  while (search.outcome === 'searching' && search.effort < until) {
    if (search.conflict === null) goOn(problem, search);
    else backOut(problem, search, search.conflict);
    search.expansions = Math.floor(search.effort / EXPANSION_EFFORT);
  }
  if (search.outcome === 'searching' && search.effort >= limit) {
    search.outcome = 'exhausted';
  }
  return verdictOf(search);
}

function goOn(problem: SafetyProblem, search: Search): void {
  if (holdings.unfinished === 0) {
    confirm(problem, search);
    return;
  }
  const step = search.survey === null ? knownStep(problem, search, holdings) : undefined;
  if (step === undefined) goOnLooking(problem, search);
  else advance(problem, search, step);
}

/** Looks ahead for the next moves; when that finds nothing good, any open move is tried. */
function goOnLooking(problem: SafetyProblem, search: Search): void {
  search.survey ??= beginSurvey(problem, search);
  const way = goOnSurveying(problem, search, search.survey, holdings);
  if (way === undefined) return;
  search.survey = null;
  for (let step = way.length - 1; step >= 0; step -= 1) search.intentions.push(way[step]!);
  if (way.length > 0) return;
  const step = anyStep(problem, search, holdings);
  if (step === undefined) blame(problem, search, someUnfinished(problem, search));
  else advance(problem, search, step);
}

function someUnfinished(problem: SafetyProblem, { nodes }: Search): number {
  return nodes.findIndex((node, train) => !problem.trains[train]!.isGoal(node));
}

/** Takes a step; a train that is then caught in a knot is noticed at once rather than after all others have run. */
function advance(problem: SafetyProblem, search: Search, { train, to }: OrderStep): void {
  search.effort += MOVE_EFFORT;
  pushStep(search.path, search.nodes, train, to, search.guide.cursors[train]!);
  followGuide(search.guide, train, to);
  arrive(search, train);
  if (!problem.trains[train]!.isGoal(to)) {
    const found = explain(problem, search, holdings, train);
    if (found.kind === 'doomed') search.conflict = found;
  }
}

/** Takes the last move back; if a train of the conflict made it, remembers the conflict and looks for another move. */
function backOut(problem: SafetyProblem, search: Search, conflict: DeadEnd): void {
  const undone = popStep(search.path, search.nodes);
  if (undone === undefined) {
    search.outcome = 'doomed';
    return;
  }
  const { train, from, to, cursor } = undone;
  search.guide.cursors[train] = cursor;
  arrive(search, train);
  if (!conflict.trains.includes(train)) {
    search.intentions.push({ train, to });
    return;
  }
  const nodeOf = (other: number): number => (other === train ? to : search.nodes[other]!);
  addPattern(search.patterns, conflict.trains, nodeOf, train, conflict.tied);
  search.conflict = null;
  search.patience -= 1;
  if (search.patience === 0) {
    startAfresh(search);
  } else {
    const finished = problem.trains[train]!.isGoal(from);
    blame(problem, search, finished ? someUnfinished(problem, search) : train);
  }
}

/** Brings what is derived from the nodes up to date after a train has changed its own. */
function arrive(search: Search, train: number): void {
  holdings.place(train, search.nodes[train]!);
  refilePatterns(search.patterns, search.nodes, train);
}

/** Finds a move that a train concerned could still make here, or why there is none. */
function blame(problem: SafetyProblem, search: Search, seed: number): void {
  search.effort += EXPLANATION_EFFORT;
  const found = explain(problem, search, holdings, seed);
  if (found.kind === 'doomed') search.conflict = found;
  else advance(problem, search, found.step);
}

/**
 * A search that went wrong early would stay in that corner for long. So it starts anew now and then, with
 * other preferences, and after ever longer attempts, so that one of them is long enough for the whole space.
 */
function startAfresh(search: Search): void {
  for (;;) {
    const undone = popStep(search.path, search.nodes);
    if (undone === undefined) break;
    search.guide.cursors[undone.train] = undone.cursor;
    arrive(search, undone.train);
  }
  search.patterns = untiedPatterns(search.patterns, search.nodes);
  search.intentions.length = 0;
  search.attempt += 1;
  search.patience = patienceOf(search.attempt);
}

/** Lengths of attempts: 1 1 2 1 1 2 4 1 1 2 1 1 2 4 8 … times a unit, which is near the best for any unknown spread. */
function patienceOf(attempt: number): number {
  let size = 1;
  while (size < attempt + 1) size *= 2;
  return size === attempt + 1 ? (size / 2) * PATIENCE_UNIT : patienceOf(attempt + 1 - size / 2);
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
