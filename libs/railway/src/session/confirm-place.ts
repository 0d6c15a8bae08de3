import { pathEnd, piecesOf, type PlacedPiece } from '../interlocking/held-path.js';
import { showSignals } from '../interlocking/signals.js';
import { awaitDrawingUp } from '../movement/standing.js';
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
 * may be as far on as was reckoned before, and that the sections there read free proves nothing.
 */
function findHead(w: Writer, index: number): void {
  const train = w.train(index);
  const model = w.world.models[index]!;
  const { furthest, other } = ownOccupied(w, index);
  if (!train.adrift || furthest === undefined) return;
  train.adrift = false;
  const lead = leadingUnseen(w.world.stock.trains[index]!, train);
  // Where it was seen last counts only while that is occupied: it may have come back.
  const before = train.edge;
  const wasSeenBeyond = furthest.end + lead <= before;
  const from = furthest.start + lead;
  train.edge = furthest.end + lead < train.edge ? from : Math.max(train.edge, from);
  const reach = unseenUpTo(piecesOf(w.world.layout, train.path), furthest.end) + lead;
  if (wasSeenBeyond) train.blind.push(...sectionsBetween(w, index, furthest.end, before));
  const high = wasSeenBeyond ? Math.max(reach, furthestHead(model, train, w.now)) : reach;
  placeHead(w, index, train.edge, Math.min(high, pathEnd(train.path)));
  showSignals(w, index);
  if (wasSeenBeyond) awaitDrawingUp(w, index);
  if (other === undefined) return;
  const { id } = w.world.layout.sections[other.section]!;
  w.follow({
    kind: 'halt',
    train: index,
    why: `section ${id} on its way is occupied too, further off than it is long`,
    mend: `Look what stands in section ${id}; let the train go on when it is clear.`,
  });
}

/**
 * Of what is occupied on a train's way, not behind its proven tail, the furthest that it can reach from the rearmost, and the
 * first that it cannot.
 */
function ownOccupied(
  w: Writer,
  index: number,
): { furthest: PlacedPiece | undefined; other: PlacedPiece | undefined } {
  const { tail } = w.state.trains[index]!;
  const occupied = occupiedOnPath(w.world, w.state, index).filter(({ end }) => end > tail);
  const rear = occupied[0]?.end ?? 0;
  const { length } = w.world.stock.trains[index]!;
  const own = occupied.filter(({ start }) => start - rear < length);
  const sections = new Set(own.map(({ section }) => section));
  return {
    furthest: own.at(-1),
    other: occupied.find(({ section }) => !sections.has(section)),
  };
}

/** Sections on a train's way between two places, mm along it. */
const sectionsBetween = (w: Writer, index: number, from: number, to: number): number[] =>
  piecesOf(w.world.layout, w.state.trains[index]!.path)
    .filter(({ section, start }) => section >= 0 && start >= from && start < to)
    .map(({ section }) => section);
