import type { Doubt } from '../session/state.js';
import type { Writer } from '../session/writer.js';
import { blockOf, type Heading } from '../layout/layout.js';
import { exchangePlaces } from '../session/placing.js';
import { permutations } from './permutations.js';

/** Most assignments kept for one doubt; beyond it nothing is said but that the trains must be told apart by a person. */
export const MOST_ASSIGNMENTS = 64;
/** Named faults (misreadings) an assignment may need to explain the evidence, before it is ruled out. */
const FAULTS_ALLOWED = 1;

/**
 * Puts trains in doubt together: any of them may stand at the place of any other that it fits. A doubt that shares a train
 * with an earlier one grows to include it; doubts that share none are never multiplied with each other.
 */
export function openDoubt(w: Writer, trains: readonly number[], evidence: string): void {
  const touching = w.state.doubts.filter((doubt) => doubt.trains.some((t) => trains.includes(t)));
  const together = [...new Set([...touching.flatMap((doubt) => doubt.trains), ...trains])];
  together.sort((a, b) => a - b);
  if (touching.length === 1 && touching[0]!.trains.length === together.length) return;
  const places = together.map((train) => w.state.trains[train]!.path.at(-1)!.heading);
  const ways = permutations(together.length, MOST_ASSIGNMENTS) ?? [];
  const doubt: Doubt = {
    trains: together,
    places,
    assignments: ways
      .filter((way) => way.every((place, at) => fits(w, together[at]!, places[place]!)))
      .map((way) => ({ places: way, faults: 0 })),
    evidence,
    since: w.now,
  };
  w.state.doubts = [...w.state.doubts.filter((each) => !touching.includes(each)), doubt];
  for (const train of together) w.train(train);
  w.changes.lineUp = true;
}

function fits(w: Writer, train: number, heading: Heading): boolean {
  return w.world.stock.trains[train]!.length <= w.world.layout.elements[blockOf(heading)]!.length;
}

/** A decoder answered in a block: every assignment that has its train elsewhere needs one more misreading. */
export function reportSpeaks(w: Writer, train: number, block: number): void {
  const doubt = doubtOf(w, train);
  if (doubt === undefined) return;
  for (const assignment of doubt.assignments) {
    if (placeIn(doubt, assignment.places, train) !== block) assignment.faults++;
  }
  doubt.assignments = doubt.assignments.filter(({ faults }) => faults <= FAULTS_ALLOWED);
  settleDoubt(w, doubt, 'reported');
}

/** A person says where a train of a doubt stands. Returns whether that place was among its possibilities. */
export function personSpeaks(w: Writer, train: number, block: number): boolean {
  const doubt = doubtOf(w, train);
  if (doubt === undefined) return false;
  const left = doubt.assignments.filter(({ places }) => placeIn(doubt, places, train) === block);
  if (left.length === 0) return false;
  doubt.assignments = left;
  settleDoubt(w, doubt, 'declared');
  return true;
}

/** When one assignment is left, it is how the trains stand; those that changed places are put where they are. */
function settleDoubt(w: Writer, doubt: Doubt, certainty: 'reported' | 'declared'): void {
  const [only, ...more] = doubt.assignments;
  if (only === undefined || more.length > 0) return;
  forgetDoubt(w, doubt.trains[0]!);
  const evidence =
    certainty === 'reported'
      ? 'No other assignment of trains to places explains what the decoders answered.'
      : 'No other assignment of trains to places is left after what a person saw.';
  exchangePlaces(
    w,
    doubt.trains.map((train, at) => ({ train, heading: doubt.places[only.places[at]!]! })),
    evidence,
  );
}

/** The block that an assignment gives a train of the doubt. */
function placeIn(doubt: Doubt, places: readonly number[], train: number): number {
  return blockOf(doubt.places[places[doubt.trains.indexOf(train)]!]!);
}

export const doubtOf = (w: Pick<Writer, 'state'>, train: number): Doubt | undefined =>
  w.state.doubts.find(({ trains }) => trains.includes(train));

/** Ends a doubt that a train is part of, without an answer: its trains must be told apart one by one. */
export function forgetDoubt(w: Writer, train: number): void {
  w.state.doubts = w.state.doubts.filter(({ trains }) => !trains.includes(train));
  w.changes.lineUp = true;
}

/** A train was found where it is believed: it leaves its doubt, and nobody else of it can stand there. */
export function leaveDoubt(w: Writer, train: number): void {
  const doubt = doubtOf(w, train);
  if (doubt === undefined) return;
  const own = doubt.trains.indexOf(train);
  doubt.assignments = doubt.assignments
    .filter(({ places }) => places[own] === own)
    .map(({ places, faults }) => ({
      places: places.toSpliced(own, 1).map((place) => (place > own ? place - 1 : place)),
      faults,
    }));
  doubt.trains.splice(own, 1);
  doubt.places.splice(own, 1);
  if (doubt.trains.length < 2) forgetDoubt(w, doubt.trains[0]!);
}
