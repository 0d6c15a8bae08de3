/** Where a train can run to in one go from where it stands. */
export interface Reach<Way = unknown> {
  readonly to: number;
  /** What it holds on its way there, besides what it holds at either end. */
  readonly needs: readonly number[];
  readonly way: Way;
}

/** A train as the search for a return sees it: numbered places where it may stand, and what it holds there. */
export interface Mover<Way = unknown> {
  readonly start: number;
  holds(node: number): readonly number[];
  isHome(node: number): boolean;
  /** Least number of moves home if it were alone, never more than it takes; Infinity: it can't come home from there. */
  least(node: number): number;
  /** Everywhere it can run to over what is free, the nearest first. */
  reach(node: number, isFree: (resource: number) => boolean): readonly Reach<Way>[];
}

/** What the next run home would need if the train were alone, its place at the end of it included; nothing at home, and where no way leads there. */
export function wantedForHome(mover: Mover, node: number): readonly number[] {
  const least = mover.least(node);
  if (least === 0 || least === Infinity) return [];
  const run = mover.reach(node, () => true).find(({ to }) => mover.least(to) < least);
  return run === undefined ? [] : [...run.needs, ...mover.holds(run.to)];
}

/** A move of the order that was found. */
export interface FoundMove<Way = unknown> {
  readonly mover: number;
  readonly from: number;
  readonly reach: Reach<Way>;
}

/** The best order found. */
export interface FoundOrder<Way = unknown> {
  readonly moves: readonly FoundMove<Way>[];
  /** By mover: where it stands afterwards. */
  readonly nodes: readonly number[];
  /** Whether no order brings more of them home, and none as many with fewer moves. */
  readonly isBest: boolean;
}
