import type { Command } from '@blockbell/railway';
import type { Rehearsal } from './rehearsal.js';

/** Trains for which a person is asked, since the rules of the staging yard before them find no track. */
export const askedFor = ({ state }: Rehearsal): number[] =>
  state.trains.flatMap(({ wait }, train) =>
    wait?.kind === 'yard-full' && wait.until === null ? [train] : [],
  );

/**
 * Which track a person names for a train that waits outside a staging yard: an empty one, else one with a free slot, in the order of the
 * layout; each once before any is named again. Null: there is none with room.
 * @param named by train: names of tracks that were named in vain; changed in place
 */
export function trackFor(
  { world, state }: Rehearsal,
  train: number,
  named: Map<number, readonly string[]>,
): Command | null {
  const { wait, leg } = state.trains[train]!;
  const [call] = world.graphs[train]!.stops[leg + 1]?.calls ?? [];
  if (wait?.kind !== 'yard-full' || call === undefined) return null;
  const tracks = world.layout.stations[wait.station]!.tracks.map(({ name, blocks }) => ({
    name,
    free: blocks.filter((block) => state.elements[block]!.holder < 0).length,
    slots: blocks.length,
  })).filter(({ free }) => free > 0);
  const before = named.get(train) ?? [];
  const unnamed = tracks.filter(({ name }) => !before.includes(name));
  const open = unnamed.length > 0 ? unnamed : tracks;
  const track = open.find(({ free, slots }) => free === slots) ?? open[0];
  if (track === undefined) return null;
  named.set(train, unnamed.length > 0 ? [...before, track.name] : [track.name]);
  return { kind: 'choose-track', train, ...call, track: track.name };
}
