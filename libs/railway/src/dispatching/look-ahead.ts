import { clearRun } from './clear-run.js';
import { mixPair } from './doomed-patterns.js';
import { HeadOnTable } from './head-on-table.js';
import type { Holdings } from './holdings.js';
import type { OrderStep, SafetyProblem } from './safety-problem.js';
import type { Search } from './safety-search.js';

/** A look ahead in progress, as plain data: one train is looked at at a time, since all together may take long. */
export interface Survey {
  /** Trains to look at, in turn. */
  readonly trains: readonly number[];
  /** For each train looked at, how far it could run. */
  readonly ways: (readonly OrderStep[])[];
  /** How many of these were asked for a place to wait. */
  asked: number;
}

const headOns = new HeadOnTable();

/** To be called before the first look ahead of a slice: nothing remembered outside the state may count. */
export function prepareLookAhead(problem: SafetyProblem): void {
  headOns.clear(problem);
}

/** Begins a look ahead: the train nearest to its goal first, in later attempts any. */
export function beginSurvey(problem: SafetyProblem, { nodes, attempt }: Search): Survey {
  const keys = nodes.map((node, train) =>
    attempt <= 2 ? problem.trains[train]!.distance(node) : mixPair(train, attempt),
  );
  const trains = nodes
    .map((_, train) => train)
    .filter((train) => !problem.trains[train]!.isGoal(nodes[train]!))
    .sort((a, b) => keys[a]! - keys[b]! || a - b);
  return { trains, ways: [], asked: 0 };
}

/**
 * Looks at one more train. In the end finds a way for one while all others stand still: to its goal if one has a
 * clear run; otherwise as far as a place where it will not stand head to head with a train that must come past.
 * Empty when there is none, undefined while there is more to look at.
 */
export function goOnSurveying(
  problem: SafetyProblem,
  search: Search,
  survey: Survey,
  holdings: Holdings,
): readonly OrderStep[] | undefined {
  const { trains, ways } = survey;
  if (ways.length < trains.length) {
    const train = trains[ways.length]!;
    const { way } = clearRun(problem, search, holdings, train);
    ways.push(way);
    const end = way.at(-1);
    return end !== undefined && problem.trains[train]!.isGoal(end.to) ? way : undefined;
  }
  const way = ways[survey.asked];
  if (way === undefined) return [];
  survey.asked += 1;
  headOns.load(problem, search.nodes);
  const safe = way.findLastIndex(({ train, to }) => !headOns.threatens(problem, train, to));
  search.effort += way.length - safe;
  return safe < 0 ? undefined : way.slice(0, safe + 1);
}
