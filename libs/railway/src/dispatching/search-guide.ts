import type { OrderStep, SafetyProblem } from './safety-problem.js';

/**
 * An older order that a search tries to follow, as plain data: the steps of each train in turn, with their place
 * in the whole order, and a cursor for each train. A train that was sent another way picks its steps up again
 * where the ways meet.
 */
export interface SearchGuide {
  readonly to: number[];
  readonly rank: number[];
  /** Where each train's steps begin; one more at the end. */
  readonly starts: number[];
  /** Each train's next step; the complement (~) of it while the train is off its steps. */
  readonly cursors: number[];
}

/** How many of a train's steps are looked through for the place where it comes back to them. */
const REJOIN_REACH = 64;

export function makeGuide(
  problem: SafetyProblem,
  nodes: readonly number[],
  order: readonly OrderStep[],
): SearchGuide {
  const steps: { to: number; rank: number }[][] = nodes.map(() => []);
  order.forEach(({ train, to }, rank) => steps[train]?.push({ to, rank }));
  const guide: SearchGuide = { to: [], rank: [], starts: [0], cursors: [] };
  steps.forEach((own, train) => {
    const start = guide.to.length;
    for (const { to, rank } of own) {
      guide.to.push(to);
      guide.rank.push(rank);
    }
    guide.starts.push(guide.to.length);
    const node = nodes[train]!;
    const onTheWay =
      own.length > 0 && problem.trains[train]!.moves(node).some((move) => move.to === own[0]!.to);
    guide.cursors.push(onTheWay ? start : rejoin(guide, train, start, node));
  });
  return guide;
}

/** Moves the train's cursor on after it went to a node. Keep the old cursor to take the move back. */
export function followGuide(guide: SearchGuide, train: number, to: number): void {
  const cursor = guide.cursors[train]!;
  const at = cursor < 0 ? ~cursor : cursor;
  guide.cursors[train] = rejoin(guide, train, at, to);
}

/** The node the guide sends the train to next, or -1 when it has no advice. */
export function guidedNode(guide: SearchGuide, train: number): number {
  const cursor = guide.cursors[train]!;
  return cursor >= 0 && cursor < guide.starts[train + 1]! ? guide.to[cursor]! : -1;
}

/** When the train's next move is due, as a place in the guiding order; Infinity past its end. */
export function guidedRank(guide: SearchGuide, train: number): number {
  const cursor = guide.cursors[train]!;
  const at = cursor < 0 ? ~cursor : cursor;
  return at < guide.starts[train + 1]! ? guide.rank[at]! : Infinity;
}

function rejoin(guide: SearchGuide, train: number, at: number, node: number): number {
  const end = Math.min(guide.starts[train + 1]!, at + REJOIN_REACH);
  for (let step = at; step < end; step += 1) {
    if (guide.to[step] === node) return step + 1;
  }
  return ~at;
}
