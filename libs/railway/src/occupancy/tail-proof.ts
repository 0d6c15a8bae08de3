import { piecesOf } from '../interlocking/held-path.js';
import { releaseBehind } from '../interlocking/release.js';
import { furthestHead } from '../movement/train-motion.js';
import type { Writer } from '../session/writer.js';
import { leadingUnseen, trailingUnseen } from './extent.js';

/**
 * Moves the proven tail forward as far as evidence allows and frees what lies behind it. Two kinds of evidence:
 *
 * - the furthest detected edge minus the train's greatest length, never the commanded distance;
 * - sequence: every detected section from the rear up to a boundary has stayed free for its hold-off after the head
 *   was seen beyond that boundary and still is seen there. Vehicles that no detector sees may trail the
 *   boundary by the unseen stretch at the rear.
 *
 * A section free while the train cannot possibly have left it (its furthest head minus its length) is a lost
 * contact and proves nothing. Sequence proof: common practice, no source.
 */
export function proveTail(w: Writer, index: number): void {
  const train = w.train(index);
  const stock = w.world.stock.trains[index]!;
  const before = train.tail;
  const byEdge = train.edge - stock.length;
  train.tail = Math.max(before, byEdge, sequenceBoundary(w, index) - trailingUnseen(stock, train));
  provenByTrain(w, index);
  releaseBehind(w, index);
}

/**
 * The first train over a section that a person had said to be clear has been seen in it, is proven past it whole, and its
 * detector says free: it works, and nothing stands there. Until all three are so the movement stays restricted.
 */
function provenByTrain(w: Writer, index: number): void {
  const { proving, activity } = w.state.trains[index]!;
  const proven = proving.filter((section) => {
    const { belief, raw } = w.state.sections[section]!;
    return belief === 'clear' && raw === false && hasPassed(w, index, section);
  });
  if (proven.length === 0) return;
  w.train(index).proving = proving.filter((section) => !proven.includes(section));
  for (const section of proven) w.section(section).clearByHand = null;
  if (activity.kind === 'moving') w.follow({ kind: 'control', train: index });
}

/** Whether all of a train is proven past a section on its path. */
export function hasPassed(w: Writer, index: number, section: number): boolean {
  const { path, tail } = w.state.trains[index]!;
  return piecesOf(w.world.layout, path).every((it) => it.section !== section || it.end <= tail);
}

/** The furthest boundary behind which all sections are free by sequence, mm; or a value before the path. */
function sequenceBoundary(w: Writer, index: number): number {
  const train = w.state.trains[index]!;
  const stock = w.world.stock.trains[index]!;
  const seenTo = train.edge - leadingUnseen(stock, train);
  const tailAtMost = furthestHead(w.world.models[index]!, train, w.now) - stock.length;
  const pieces = piecesOf(w.world.layout, train.path);
  const occupied = (section: number): boolean =>
    section >= 0 && w.state.sections[section]!.belief === 'occupied';
  const lastOccupied = pieces.findLast((p) => p.start <= seenTo && occupied(p.section));
  let boundary = Number.MIN_SAFE_INTEGER;
  if (lastOccupied === undefined) return boundary;
  for (const piece of pieces) {
    if (piece.end > lastOccupied.start || piece.end > tailAtMost) break;
    if (piece.section < 0 || train.blind.includes(piece.section)) continue;
    if (w.state.sections[piece.section]!.belief !== 'clear') break;
    boundary = piece.end;
  }
  return boundary;
}
