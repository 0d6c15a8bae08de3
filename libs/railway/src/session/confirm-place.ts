import { pathEnd, piecesOf } from '../interlocking/held-path.js';
import { showSignals } from '../interlocking/signals.js';
import { awaitDrawingUp } from '../movement/standing.js';
import { furthestHead, placeHead } from '../movement/train-motion.js';
import { leadingUnseen } from '../occupancy/extent.js';
import { unseenUpTo } from '../occupancy/find-head.js';
import { ownOccupied } from '../occupancy/own-occupied.js';
import { seenOnlyBehind } from '../occupancy/seen-only-behind.js';
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
 * unseen track beyond. So is that of one that stood: people put trains back on the track before power is raised again, and
 * within a section nothing tells by how much. Where that section ends before the head was last seen, or before it may have
 * come to since, contact may be lost where it stands: then it may be as far on as was reckoned before, and that the sections
 * there read free proves nothing.
 */
function findHead(w: Writer, index: number): void {
  const train = w.train(index);
  const model = w.world.models[index]!;
  const stock = w.world.stock.trains[index]!;
  const fellShort = seenOnlyBehind(w, index) !== null;
  const occupied = occupiedOnPath(w.world, w.state, index).filter(
    ({ end }) => fellShort || end > train.tail,
  );
  const { own, other } = ownOccupied(occupied, stock.length);
  const furthest = own.at(-1);
  if (furthest === undefined) return;
  const lead = leadingUnseen(stock, train);
  const from = furthest.start + lead;
  const { adrift } = train;
  if (!adrift && !fellShort && from <= train.edge && !mayBeMoved(w, index, from)) return;
  train.adrift = false;
  if (fellShort) train.tail = train.path[0]!.start;
  // Where it was seen last counts only while that is occupied: it may have come back.
  const before = train.edge;
  const wasSeenBeyond = furthest.end + lead <= before;
  const end = pathEnd(train.path);
  train.edge = Math.min(wasSeenBeyond ? from : Math.max(before, from), end);
  const reach = unseenUpTo(piecesOf(w.world.layout, train.path), furthest.end) + lead;
  const reckoned = furthestHead(model, train, w.now);
  const unproven = sectionsBetween(w, index, furthest.end, Math.max(before, reckoned) - lead);
  placeHead(w, index, train.edge, Math.min(Math.max(reach, reckoned), end));
  if (unproven.length > 0) {
    train.blind.push(...unproven.filter((each) => !train.blind.includes(each)));
    awaitDrawingUp(w, index);
  }
  showSignals(w, index);
  if (other === undefined) return;
  const { id } = w.world.layout.sections[other.section]!;
  w.follow({
    kind: 'halt',
    train: index,
    why: `section ${id} on its way is occupied too, further off than it is long`,
    mend: `Look what stands in section ${id}; let the train go on when it is clear.`,
  });
}

/** Whether a train that stood may have been put further on in the section it was last seen in, while power was away. */
function mayBeMoved(w: Writer, index: number, seenFrom: number): boolean {
  const { phase } = w.state.session;
  return seenFrom === w.state.trains[index]!.edge && phase.kind === 'line-up' && phase.resumed;
}

/** Sections on a train's way that begin from one place up to another, mm along it, the last included. */
const sectionsBetween = (w: Writer, index: number, from: number, to: number): number[] =>
  piecesOf(w.world.layout, w.state.trains[index]!.path)
    .filter(({ section, start }) => section >= 0 && start >= from && start <= to)
    .map(({ section }) => section);
