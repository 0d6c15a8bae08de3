import { blockOf } from '../layout/layout.js';
import type { Doubt, EngineState } from '../session/state.js';
import { shares, weightOfFaults } from './ranking.js';

/** A train that may stand in a block after all. */
export interface DoubtCandidate {
  readonly train: number;
  /** How likely, of one; it ranks for a person and never decides. */
  readonly share: number;
  /** What speaks for and against it. */
  readonly why: string;
}

/** Trains in doubt that may stand in a block, the likeliest first. */
export function candidatesIn(state: EngineState, block: number): DoubtCandidate[] {
  return state.doubts
    .filter(({ places }) => places.some((place) => blockOf(place) === block))
    .flatMap((doubt) => inDoubt(doubt, block))
    .sort((a, b) => b.share - a.share || a.train - b.train);
}

function inDoubt(doubt: Doubt, block: number): DoubtCandidate[] {
  const { trains, places, assignments, evidence } = doubt;
  if (assignments.length === 0) {
    return trains.map((train) => ({ train, share: 1 / trains.length, why: evidence }));
  }
  const weights = shares(assignments.map(({ faults }) => weightOfFaults(faults)));
  return trains.flatMap((train, at) => {
    const fitting = assignments.flatMap((assignment, index) =>
      blockOf(places[assignment.places[at]!]!) === block ? [{ assignment, index }] : [],
    );
    if (fitting.length === 0) return [];
    const share = fitting.reduce((sum, { index }) => sum + weights[index]!, 0);
    const faults = Math.min(...fitting.map(({ assignment }) => assignment.faults));
    return [
      {
        train,
        share,
        why: faults === 0 ? 'nothing read speaks against it' : 'if a decoder was misread',
      },
    ];
  });
}
