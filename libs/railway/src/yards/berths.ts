import type { Layout } from '../layout/layout.js';
import { slotsTaken } from '../layout/standing-room.js';
import type { Train } from '../stock/train.js';
import type { WorkingGraph } from '../timetable/working-graph.js';
import { directed, headingsTo, otherEnd, type DirectedTrack, type TrackEnd } from './track-ends.js';

/** A way to put a train into a track: by which end it comes in, by which it leaves, what it needs and costs there. */
export interface Berth {
  /** Index of the track in its station. */
  readonly track: number;
  readonly in: TrackEnd;
  readonly out: TrackEnd;
  /** Slots. */
  readonly needs: number;
  /** Its place in the order in which the call prefers tracks, 0 for the best. */
  readonly cost: number;
}

/** A track of a yard with a direction through its blocks. */
export type NamedTrack = DirectedTrack & { readonly name: string };

export const yardTracks = (layout: Layout, station: number): readonly NamedTrack[] =>
  layout.stations[station]!.tracks.map(({ name, blocks }) => ({
    name,
    ...directed(layout, blocks),
  }));

/**
 * Nodes at which a train may come to rest at the end of a leg, on any way that its work permits from the nodes given. Places
 * from which its work can't be ended are left out.
 */
export function restsAtEnd(graph: WorkingGraph, starts: readonly number[], leg: number): number[] {
  const seen = new Set(starts);
  const found = new Set<number>();
  const open = [...starts];
  for (let node = open.pop(); node !== undefined; node = open.pop()) {
    if (graph.placeOf(node).leg >= leg) {
      found.add(node);
      continue;
    }
    for (const { to } of graph.moves(node)) {
      if (seen.has(to) || graph.distance(to) === Infinity) continue;
      seen.add(to);
      open.push(to);
    }
  }
  return [...found].sort((a, b) => a - b);
}

/** Where a train may stand at a stop of its work, of the rests given, each berth once. */
export function berthsOf(
  layout: Layout,
  train: Train,
  graph: WorkingGraph,
  stop: number,
  tracks: readonly NamedTrack[],
  rests: readonly number[],
): Berth[] {
  const wanted = graph.stops[stop]!.tracks.map(({ name }) => name);
  const berths = new Map<string, Berth>();
  for (const node of rests) {
    const berth = berthAt(layout, train, graph, tracks, node);
    if (berth === null) continue;
    const cost = Math.max(0, wanted.indexOf(tracks[berth.track]!.name));
    berths.set(`${berth.track}${berth.in}${berth.out}`, { ...berth, cost });
  }
  return [...berths.values()];
}

/** The berth that a rest at a stop is, all but its cost; null where it is in none of the tracks. */
function berthAt(
  layout: Layout,
  train: Train,
  graph: WorkingGraph,
  tracks: readonly NamedTrack[],
  node: number,
): Berth | null {
  const { heading } = graph.placeOf(node);
  const index = tracks.findIndex(({ ends }) => ends.has(heading));
  const track = tracks[index];
  if (track === undefined) return null;
  const end = track.ends.get(heading)!;
  const [foremost] = headingsTo(layout, track, end);
  const slots = slotsTaken(layout, track.blocks, foremost!, train.length);
  if (slots === null) return null;
  const entry = otherEnd(end);
  return { track: index, in: entry, out: endOut(graph, node, end), needs: slots.length, cost: 0 };
}

/** The end by which a train leaves that rests at a stop with its head towards `ahead`. */
export function endOut(graph: WorkingGraph, node: number, ahead: TrackEnd): TrackEnd {
  const [move] = graph.moves(node);
  return move !== undefined && graph.meaningOf(node, move.to).reverses ? otherEnd(ahead) : ahead;
}
