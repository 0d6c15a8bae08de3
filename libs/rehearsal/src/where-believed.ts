import { endAhead, opposite } from '@blockbell/railway';
import type { TruthTrain } from '@blockbell/simulation';
import { headOnPath, tailOnPath } from './invariants/head-on-path.js';
import type { Rehearsal } from './rehearsal.js';

/** Whether a train that is on the layout really stands on the way held for it and nowhere else. */
export function standsOnItsWay({ simulated, state }: Rehearsal, train: number): boolean {
  const truth = simulated.truth.train(train);
  const { path } = state.trains[train]!;
  if (truth === null || path.length === 0) return false;
  return truth.stretches
    .filter(({ from, to }) => to > from)
    .every(({ element }) => path.some((item) => item.element === element));
}

/** Whether a train stands the other way round than believed. */
export function isTurnedRound({ simulated, state }: Rehearsal, train: number): boolean {
  const truth: TruthTrain | null = simulated.truth.train(train);
  const { path, frontLeads } = state.trains[train]!;
  const item = path.find(
    ({ heading, element }) => heading >= 0 && element === truth?.front.element,
  );
  if (truth === null || item === undefined) return false;
  return truth.towards !== endAhead(frontLeads ? item.heading : opposite(item.heading));
}

/**
 * Whether a train stands foul, by a mm or more, of track that is not held for it: beyond its limit, or with its tail too near
 * to the end of the rearmost block it holds.
 */
export function standsFoul({ simulated, state, world }: Rehearsal, train: number): boolean {
  const truth = simulated.truth.train(train);
  const believed = state.trains[train]!;
  const rearmost = believed.path[0];
  if (truth === null || rearmost === undefined) return false;
  const head = headOnPath(world.layout, believed, truth);
  const tail = tailOnPath(world.layout, believed, truth);
  if (head === null || tail === null) return false;
  const clearFrom =
    rearmost.heading < 0
      ? rearmost.start
      : rearmost.start + world.foulingAhead[opposite(rearmost.heading)]!;
  return head > believed.limit + 1 || tail < clearFrom - 1;
}
