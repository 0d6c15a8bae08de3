import type { Writer } from '../session/writer.js';
import { returnOrderSteps } from '../dispatching/order.js';
import { freeItem, freePassedGaps } from './release.js';
import type { PathItem } from '../session/state.js';
import { lastHeading, stepOf } from './held-path.js';
import { freeOverlap, lockOverlap, overlapInTheWay } from './overlap.js';
import { provenFor } from './turnout-proof.js';

/**
 * Gives back what a train has reserved but got no authority over, where a drive of it or of its overlap has failed. No
 * train can be there, so the track frees at once; the move goes back to the front of the proven order.
 */
export function giveBackUnproven(w: Writer, index: number): void {
  const train = w.state.trains[index]!;
  const ahead = train.path.slice(train.authorised + 1);
  if (ahead.length === 0) return;
  if (ahead.some((item) => hasFailed(w, item)) || train.overlap.some((each) => failed(w, each)))
    giveBackAhead(w, index);
}

/** Gives back all that lies beyond a train's authority. */
export function giveBackAhead(w: Writer, index: number): void {
  const train = w.train(index);
  const removed = train.path.splice(train.authorised + 1);
  if (removed.length === 0) return;
  for (const item of removed.reverse()) freeItem(w, index, item);
  overlapAfter(w, index);
  freePassedGaps(w, index);
  returnOrderSteps(w, index, removed.filter((item) => item.heading >= 0).length);
}

/**
 * The way ends earlier now: what it was given up for may be needed as overlap again, and is locked where it is free. A train
 * that stands at its mark frees it again at once; one that stands short of it is still to run there.
 */
function overlapAfter(w: Writer, index: number): void {
  freeOverlap(w, index);
  const heading = lastHeading(w.state.trains[index]!.path);
  if (heading < 0 || w.world.layout.overlaps[heading]!.length === 0) return;
  if (overlapInTheWay(w.world, w.state, index, heading) === null) lockOverlap(w, index, heading);
  w.follow({ kind: 'control', train: index });
}

function hasFailed(w: Writer, item: PathItem): boolean {
  if (provenFor(w, item)) return false;
  const { gaps } = stepOf(w.world.layout, item);
  return failed(w, item.element) || gaps.some(({ element }) => failed(w, element));
}

const failed = (w: Writer, element: number): boolean =>
  w.state.elements[element]!.proof === 'failed';
