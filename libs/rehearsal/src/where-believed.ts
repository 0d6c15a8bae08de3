import { endAhead, opposite } from '@blockbell/railway';
import type { TruthTrain } from '@blockbell/simulation';
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
