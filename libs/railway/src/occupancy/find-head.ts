import { pathEnd, piecesOf, type PlacedPiece } from '../interlocking/held-path.js';
import { showSignals } from '../interlocking/signals.js';
import { furthestHead, placeHead } from '../movement/train-motion.js';
import type { Writer } from '../session/writer.js';
import { leadingUnseen } from './extent.js';
import { ownOccupied } from './own-occupied.js';

/**
 * Where a train's detected front is at the furthest, if a section ending at `end` is the last that sees it, in mm along its
 * path: where the next detector begins, for track between is unseen.
 */
export function unseenUpTo(pieces: readonly PlacedPiece[], end: number): number {
  const next = pieces.find(({ section, start }) => section >= 0 && start >= end);
  return next?.start ?? pieces.at(-1)?.end ?? end;
}

/**
 * Finds the head of a train that stands after a fault. Sections that are occupied directly ahead of its last edge are
 * its own, as far as it is long: it has run on into them. Else it is between that edge and the furthest it can have come.
 * Returns a section further on that is occupied by something else, or null.
 */
export function findHeadFromEdge(w: Writer, index: number): number | null {
  const train = w.state.trains[index]!;
  const stock = w.world.stock.trains[index]!;
  const lead = leadingUnseen(stock, train);
  const pieces = piecesOf(w.world.layout, train.path);
  const ahead = pieces.filter(({ start }) => start + lead > train.edge);
  const isOccupied = (section: number): boolean =>
    section >= 0 && w.state.sections[section]!.belief === 'occupied';
  const standsOn = pieces.filter(({ section, end }) => isOccupied(section) && end > train.tail);
  const reached = ownOccupied(standsOn, stock.length).own;
  const clear = ahead.findIndex((piece) => !reached.includes(piece));
  const own = clear < 0 ? ahead : ahead.slice(0, clear);
  const other = ahead.slice(own.length).find(({ section }) => isOccupied(section));
  if (other !== undefined) return other.section;
  const last = own.at(-1);
  const furthest = furthestHead(w.world.models[index]!, train, w.now);
  const edge = last === undefined ? train.edge : last.start + lead;
  const high =
    last === undefined
      ? Math.max(edge, furthest)
      : Math.min(unseenUpTo(pieces, last.end) + lead, pathEnd(train.path));
  const found = w.train(index);
  found.edge = edge;
  found.adrift = false;
  placeHead(w, index, edge, high);
  showSignals(w, index);
  return null;
}
