import { pathEnd, piecesOf } from '../interlocking/held-path.js';
import { showSignals } from '../interlocking/signals.js';
import { furthestHead, placeHead } from '../movement/train-motion.js';
import { leadingUnseen } from '../occupancy/extent.js';
import { unseenUpTo } from '../occupancy/find-head.js';
import { occupiedOnPath } from './line-up.js';
import type { Writer } from './writer.js';

/** A place is confirmed: the train stands there, with its head where the furthest occupied section allows. */
export function confirmPlace(
  w: Writer,
  index: number,
  certainty: 'reported' | 'inferred' | 'declared',
  evidence: string,
): void {
  const train = w.train(index);
  train.confirmed = true;
  train.mustSee = false;
  train.identity = { certainty, evidence, since: w.now, misreads: 0 };
  train.activity = { kind: 'standing' };
  findHead(w, index);
  w.changes.lineUp = true;
  w.state.dispatching.due = true;
}

/**
 * The head of a train that ran on while power was away is somewhere in the furthest occupied section of its path, or in
 * unseen track beyond. Where that section ends before the head was last seen, contact may be lost where it stands: then it
 * may be as far on as was reckoned before.
 */
function findHead(w: Writer, index: number): void {
  const train = w.train(index);
  const model = w.world.models[index]!;
  const furthest = occupiedOnPath(w.world, w.state, index).at(-1);
  if (!train.adrift || furthest === undefined) return;
  train.adrift = false;
  const lead = leadingUnseen(w.world.stock.trains[index]!, train);
  // Where it was seen last counts only while that is occupied: it may have come back.
  const wasSeenBeyond = furthest.end + lead <= train.edge;
  const from = furthest.start + lead;
  train.edge = furthest.end + lead < train.edge ? from : Math.max(train.edge, from);
  const reach = unseenUpTo(piecesOf(w.world.layout, train.path), furthest.end) + lead;
  const high = wasSeenBeyond ? Math.max(reach, furthestHead(model, train, w.now)) : reach;
  placeHead(w, index, train.edge, Math.min(high, pathEnd(train.path)));
  showSignals(w, index);
}
