import { fault, placeOf } from '../../faults/fault.js';
import type { Fault } from '../../faults/fault.js';
import { checkTwice } from '../../faults/numbers.js';
import type { LayoutFile } from '../layout-file.js';
import type { ElementIndex } from '../layout.js';
import type { TrackGraph } from '../track-graph.js';

/** Tracks of stations and yards: known blocks, the slots of a track in order and end to end, no block in two. */
export function checkStations(file: LayoutFile, graph: TrackGraph): Fault[] {
  const tracks = file.stations.flatMap((station, index) =>
    station.tracks.map((track, place) => ({
      track,
      place: `${placeOf('stations', index, station.id)} tracks[${place}] ${track.id}`,
    })),
  );
  return [
    ...tracks.flatMap(({ track, place }) => {
      if (track.blocks.length === 0) {
        return [fault(place, 'the track has no block', 'name the block, or its slots in order')];
      }
      const unknown = track.blocks.flatMap((id) => checkBlock(id, place, graph));
      return unknown.length > 0 ? unknown : checkSlots(track.blocks, place, graph);
    }),
    ...checkTwice(
      tracks.flatMap(({ track, place }) => track.blocks.map((id) => ({ id, place }))),
      ({ id }) => id,
      ({ place }) => place,
      'block',
      'a block belongs to one track of one station',
    ),
  ];
}

function checkBlock(id: string, place: string, graph: TrackGraph): Fault[] {
  const kind = graph.elements[graph.indexOf.get(id) ?? -1]?.kind;
  if (kind === undefined) {
    return [fault(place, `there is no block ${id}`, 'correct the name or add the block')];
  }
  return kind === 'block'
    ? []
    : [fault(place, `${id} is a ${kind}, not a block`, 'name blocks only: trains stand in blocks')];
}

/** Follows the track from slot to slot; each is entered at one end and left at the other. */
function checkSlots(blocks: readonly string[], place: string, graph: TrackGraph): Fault[] {
  const indexes = blocks.map((id) => graph.indexOf.get(id) ?? -1);
  const follows = (first: 'a' | 'b'): number => {
    let leave: 'a' | 'b' = first;
    for (let slot = 0; slot + 1 < indexes.length; slot++) {
      const next = nextSlot(indexes[slot] ?? -1, leave, graph);
      if (next === null || next.block !== indexes[slot + 1]) return slot;
      leave = next.leave;
    }
    return indexes.length - 1;
  };
  const reached = Math.max(follows('a'), follows('b'));
  return reached >= indexes.length - 1
    ? []
    : [
        fault(
          place,
          `slot ${blocks[reached + 1]} doesn't follow ${blocks[reached]} end to end`,
          'list the slots in order along the track, each joined directly to the next',
        ),
      ];
}

function nextSlot(
  block: ElementIndex,
  leave: 'a' | 'b',
  graph: TrackGraph,
): { block: ElementIndex; leave: 'a' | 'b' } | null {
  const met = graph.mate(block, leave);
  if (met === null || graph.elements[met.element]?.kind !== 'block') return null;
  return { block: met.element, leave: met.port === 'a' ? 'b' : 'a' };
}
