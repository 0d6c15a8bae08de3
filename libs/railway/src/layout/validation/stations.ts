import { fault, placeOf } from '../../faults/fault.js';
import type { Fault } from '../../faults/fault.js';
import { checkTwice } from '../../faults/numbers.js';
import { foulingAhead, stopMark } from '../elements.js';
import type { LayoutFile, StationFile, StationTrackFile } from '../layout-file.js';
import type { ElementIndex } from '../layout.js';
import type { TrackGraph } from '../track-graph.js';

/** Least distance of a stop mark from the next block of a track into which trains are called on: the gap kept, and as much to stop in as before any other end, mm. */
const LEAST_MARK = 160;

/** Tracks of stations and yards: known blocks, the slots of a track in order and end to end, no block in two. */
export function checkStations(file: LayoutFile, graph: TrackGraph): Fault[] {
  const tracks = file.stations.flatMap((station, index) =>
    station.tracks.map((track, place) => ({
      track,
      kind: station.kind,
      place: `${placeOf('stations', index, station.id)} tracks[${place}] ${track.id}`,
    })),
  );
  return [
    ...tracks.flatMap(({ track, kind, place }) => {
      if (track.blocks.length === 0) {
        return [fault(place, 'the track has no block', 'name the block, or its slots in order')];
      }
      const unknown = track.blocks.flatMap((id) => checkBlock(id, place, graph));
      if (unknown.length > 0) return unknown;
      const ends = checkSlots(track.blocks, place, graph);
      return ends.length > 0 ? ends : checkCallOn(track, kind, place, graph);
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

/**
 * Where a second train may be called on, the track is divided where one block meets the next, and trains stop so far from there
 * that the one called on has room to stop short.
 */
function checkCallOn(
  { callOn, blocks }: StationTrackFile,
  kind: StationFile['kind'],
  place: string,
  graph: TrackGraph,
): Fault[] {
  if (callOn !== true) return [];
  if (kind !== 'station') {
    return [
      fault(place, `nobody is called on in a ${kind}`, 'leave out callOn: each slot takes a train'),
    ];
  }
  if (blocks.length < 2) {
    return [
      fault(
        place,
        'a second train may be called on, but the track is one block, which takes one train',
        'divide the track into blocks where one detection section meets the next, or leave out callOn',
      ),
    ];
  }
  const members = blocks.map((id) => graph.indexOf.get(id) ?? -1);
  return members.flatMap((index) =>
    (['a', 'b'] as const).flatMap((end) => {
      const block = graph.elements[index];
      const beyond = graph.mate(index, end)?.element ?? -1;
      if (block?.kind !== 'block' || !members.includes(beyond)) return [];
      const mark = stopMark(block, end, foulingAhead(index, end, graph));
      if (mark >= LEAST_MARK) return [];
      return [
        fault(
          `${place} stop mark ${end} of ${block.id}`,
          `a train that is called on stops ${mark} mm from the block in which another stands`,
          `set the stop mark to ${LEAST_MARK} mm or more`,
        ),
      ];
    }),
  );
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
