import type { PlacedPiece } from '../interlocking/held-path.js';

/** What is occupied on a train's way, in the order of travel, told apart by its length. */
export interface OwnOccupied {
  /** What the train can stand on all of. */
  readonly own: readonly PlacedPiece[];
  /** The first that it cannot reach from the rearmost: something else stands there; undefined: none. */
  readonly other: PlacedPiece | undefined;
}

/** Tells what a train of a length can stand on, of the pieces that read occupied, from what it cannot. */
export function ownOccupied(occupied: readonly PlacedPiece[], length: number): OwnOccupied {
  // One section may see several pieces, of which the train need stand on one.
  const begins = new Map<number, number>();
  const ends = new Map<number, number>();
  for (const { section, start, end } of occupied) {
    begins.set(section, Math.min(begins.get(section) ?? Infinity, start));
    ends.set(section, Math.max(ends.get(section) ?? -Infinity, end));
  }
  const rear = Math.min(...ends.values());
  const isOwn = ({ section }: PlacedPiece): boolean => begins.get(section)! - rear < length;
  return { own: occupied.filter(isOwn), other: occupied.find((piece) => !isOwn(piece)) };
}
