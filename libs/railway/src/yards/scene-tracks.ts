import { blockOf, type ElementIndex, type Layout } from '../layout/layout.js';
import { longestIn } from '../layout/standing-room.js';
import { yardTracks, type NamedTrack } from './berths.js';
import { headingsTo } from './track-ends.js';
import type { SceneTrack, StandingTrain } from './yard-scene.js';

/** What is known of the tracks of a yard beside the layout. */
export interface TrackUse {
  /** Who is in a slot; null: it is free. `index`: of the track in its station. */
  readonly occupant: (
    track: NamedTrack,
    block: ElementIndex,
    index: number,
  ) => StandingTrain | null;
  /** See {@link SceneTrack.lastUsed}. */
  readonly lastUsed: (index: number) => number;
}

/** The tracks of a yard as the rules see them. */
export function sceneTracks(
  layout: Layout,
  station: number,
  { occupant, lastUsed }: TrackUse,
): SceneTrack[] {
  const { file } = layout.stations[station]!;
  return yardTracks(layout, station).map((track, index): SceneTrack => {
    const blocks = headingsTo(layout, track, 'a').map(blockOf);
    return {
      id: file.tracks[index]!.id,
      name: track.name,
      length: longestIn(layout, track.blocks),
      slots: blocks.map((block) => occupant(track, block, index)),
      slotLengths: blocks.map((block) => layout.elements[block]!.length),
      lastUsed: lastUsed(index),
    };
  });
}
