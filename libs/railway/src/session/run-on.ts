import { piecesOf, type PlacedPiece } from '../interlocking/held-path.js';
import { opposite, type Heading } from '../layout/layout.js';
import { beginsUnseen, sectionsBeyond } from '../layout/track-beyond.js';
import { ownOccupied } from '../occupancy/own-occupied.js';
import type { EngineState } from './state.js';
import type { World } from './world.js';

/**
 * A train that may have run on while nothing was known of it, after a loss of power or a restart of the program, need not
 * stand where its way says, however its decoder answers there. What is left open, as the end of a sentence; null: nothing.
 * Whatever was lost, three things must hold for its place to be taken over unasked:
 *
 * - all that is occupied on its way fits under its length;
 * - nothing is occupied within its length beyond either end of its way, whoever that is held for, unless a section that
 *   reads free lies between;
 * - it cannot have come over either end of its way unseen.
 */
export function leftOpen(
  world: World,
  state: EngineState,
  index: number,
  occupied: readonly PlacedPiece[],
): string | null {
  const { layout } = world;
  const far = tooFarApart(world, index, occupied);
  if (far !== null) {
    return `section ${layout.sections[far]!.id} on its way is occupied too, further off than it is long`;
  }
  const { path } = state.trains[index]!;
  const pieces = piecesOf(layout, path).filter(({ section }) => section >= 0);
  const ends = [
    { heading: path.at(-1)?.heading ?? -1, last: pieces.at(-1) },
    { heading: opposite(path[0]?.heading ?? -1), last: pieces[0] },
  ];
  for (const { heading, last } of ends) {
    const reaches = last !== undefined && state.sections[last.section]!.belief === 'occupied';
    const beyond = occupiedBeyond(world, state, index, heading, reaches);
    if (beyond !== null) {
      return `section ${layout.sections[beyond]!.id} next to its way is occupied too`;
    }
    if (reaches && beginsUnseen(layout, heading)) return 'it may have run on where nothing sees it';
  }
  return null;
}

/** A section on a train's way that reads occupied so far from another that the train cannot reach over both; null: none. */
export const tooFarApart = (
  { stock }: World,
  index: number,
  occupied: readonly PlacedPiece[],
): number | null => ownOccupied(occupied, stock.trains[index]!.length).other?.section ?? null;

/** An occupied section within a train's length beyond an end of its way: nobody's, or another's if the train reaches that end. */
function occupiedBeyond(
  { layout, stock }: World,
  state: EngineState,
  index: number,
  heading: Heading,
  reaches: boolean,
): number | null {
  for (const section of sectionsBeyond(layout, heading, stock.trains[index]!.length)) {
    const { belief, claim } = state.sections[section]!;
    if (belief === 'occupied' && (claim < 0 || (reaches && claim !== index))) return section;
  }
  return null;
}
