import { piecesOf } from '../interlocking/held-path.js';
import type { Seen } from '../session/writer.js';

/**
 * The rearmost section that reads occupied on what a train holds, when nothing does where it should stand: it may not have
 * come as far as was said of it. Null when something does there, or nothing behind it either.
 */
export function seenOnlyBehind({ world, state }: Seen, index: number): number | null {
  const { path, tail } = state.trains[index]!;
  const notFree = piecesOf(world.layout, path).filter(
    ({ section }) => section >= 0 && state.sections[section]!.belief !== 'clear',
  );
  if (notFree.some(({ end }) => end > tail)) return null;
  return (
    notFree.find(({ section }) => state.sections[section]!.belief === 'occupied')?.section ?? null
  );
}
