import { stepOf, type EngineState, type World } from '@blockbell/railway';
import { findOrder } from './find-order.js';
import { isThere, unfitToMove } from './fit-to-move.js';
import type { FoundMove } from './mover.js';
import type { LeftTrain, ReturnMove, ReturnPlan } from './return-plan.js';
import { timeOfRun } from './run-time.js';
import { needsOfRoutes, TrainMover, type Run, type Standing } from './train-mover.js';
import { homeOf } from './way-home.js';
import { whyLeft, type Movable } from './why-left.js';

/**
 * How every train comes back to where the session's files have it at the beginning, in which block and which way round: from where
 * trains certainly stand, over track that is open, seen clear and not held by a train that can't be moved. Says of whom it can't bring back why.
 * @param effort places looked at at most
 */
export function planReturn(world: World, state: EngineState, effort?: number): ReturnPlan {
  const unfit = world.stock.trains.map((_, train) => unfitToMove(world, state, train));
  const needs = needsOfRoutes(world.layout);
  const movable = world.stock.trains.flatMap(({ index: train }): Movable[] =>
    unfit[train] === null ? [{ train, mover: moverOf(world, state, train, needs) }] : [],
  );
  const barred = barredIn(world, state, new Set(movable.map(({ train }) => train)));
  const found = findOrder<Run>(
    movable.map(({ mover }) => mover),
    barred,
    effort,
  );
  const moves = movesOf(world, movable, found.moves);
  const left = world.stock.trains.flatMap(({ index: train }): LeftTrain[] => {
    if (isThere(world, state.trains[train]!, train) && moves.every((it) => it.train !== train))
      return [];
    const reason = unfit[train] ?? null;
    if (reason !== null) return [{ train, code: 'not-to-be-moved', ...reason }];
    const at = movable.findIndex((it) => it.train === train);
    return movable[at]!.mover.isHome(found.nodes[at]!)
      ? []
      : [whyLeft({ world, state, movable, barred, found }, at)];
  });
  const there = world.stock.trains.flatMap(({ index: train }) =>
    moves.every((it) => it.train !== train) && left.every((it) => it.train !== train)
      ? [train]
      : [],
  );
  return { moves, there, left, time: timeOf(moves), isBest: found.isBest };
}

function moverOf(
  world: World,
  state: EngineState,
  train: number,
  needs: readonly (readonly number[])[],
): TrainMover {
  const { layout, stock, timetable } = world;
  const { path, frontLeads } = state.trains[train]!;
  const start = timetable.storedPlaces[train] ?? null;
  const standing: Standing = {
    heading: path.at(-1)!.heading,
    frontLeads,
    trail: path.map((item) => stepOf(layout, item)),
  };
  return new TrainMover(
    layout,
    needs,
    stock.trains[train]!,
    standing,
    start === null ? null : homeOf(start),
  );
}

/** Elements over which nobody may be sent: closed, failed, occupied by who is not known, or held by a train that stays. */
function barredIn(
  { layout }: World,
  state: EngineState,
  movable: ReadonlySet<number>,
): Set<number> {
  const barred = new Set<number>();
  state.elements.forEach(({ holder, possession, proof }, element) => {
    const isStrange = (layout.elements[element]?.sections ?? []).some((section) => {
      const { belief, claim } = state.sections[section]!;
      return belief !== 'clear' && holder < 0 && !movable.has(claim);
    });
    const staysHeld = holder >= 0 && !movable.has(holder);
    if (possession !== null || proof === 'failed' || staysHeld || isStrange) barred.add(element);
  });
  return barred;
}

function movesOf(
  { layout, stock }: World,
  movable: readonly Movable[],
  found: readonly FoundMove<Run>[],
): ReturnMove[] {
  const uses = found.map(
    ({ mover, from, reach }) =>
      new Set([
        ...movable[mover]!.mover.holds(from),
        ...reach.needs,
        ...movable[mover]!.mover.holds(reach.to),
      ]),
  );
  return found.map(({ mover: index, from, reach }, at) => {
    const { train, mover } = movable[index]!;
    const before = found.flatMap((earlier, k) =>
      k < at &&
      (earlier.mover === index || [...uses[k]!].some((resource) => uses[at]!.has(resource)))
        ? [k]
        : [],
    );
    return {
      train,
      turns: reach.way.turns,
      routes: reach.way.routes,
      to: reach.way.to.heading,
      isHome: mover.isHome(reach.to),
      time: timeOfRun(layout, stock.trains[train]!, mover.standing(from), reach.way),
      after: before,
    };
  });
}

/** Until the last move is made, when each begins as soon as those before it are done. */
function timeOf(moves: readonly ReturnMove[]): number {
  const ends: number[] = [];
  for (const { after, time } of moves)
    ends.push(time + Math.max(0, ...after.map((before) => ends[before]!)));
  return Math.max(0, ...ends);
}
