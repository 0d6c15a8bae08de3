import type { ElementIndex, Layout } from '@blockbell/railway/track';
import { findFouling, foulingAtBothEnds, slotConflicts } from './fouling.js';
import type { FoulingStretch } from './fouling.js';
import { buildWayGraph, portKey, readPort } from './ways.js';
import type { BareWay, Claim, Exit, Gap, TrackPiece, Way, WayGraph } from './ways.js';

/** The track as trains run on it: every leg in both directions, cut where what a vehicle does there changes. */
export interface Track {
  readonly ways: readonly Way[];
  /** By element: which claims exclude one another, by slot and slot. */
  readonly conflicts: readonly (readonly (readonly boolean[])[])[];
  /** By heading: the block's way in that direction. Means nothing for what is no block. */
  readonly wayOfHeading: readonly number[];
}

export function buildTrack(layout: Layout): Track {
  const graph = buildWayGraph(layout);
  const fouling = findFouling(graph);
  const gaps = findGaps(layout, graph);
  const ways = graph.ways.map((bare): Way => ({
    index: bare.index,
    element: bare.element.index,
    leg: bare.leg,
    along: bare.along,
    entry: bare.entry,
    exit: bare.exit,
    position: bare.position,
    length: bare.length,
    pieces: cutPieces(layout, bare, fouling),
    next: exitOf(bare, graph, gaps),
  }));
  return {
    ways,
    conflicts: layout.elements.map(slotConflicts),
    wayOfHeading: layout.elements.flatMap(({ index }) => [
      graph.from.get(portKey(index, 'a'))?.[0] ?? -1,
      graph.from.get(portKey(index, 'b'))?.[0] ?? -1,
    ]),
  };
}

function findGaps(layout: Layout, graph: WayGraph): ReadonlyMap<string, readonly Gap[]> {
  const gaps = new Map<string, Gap[]>();
  const add = (element: ElementIndex, port: string, gap: Gap): void => {
    const key = portKey(element, port);
    gaps.set(key, [...(gaps.get(key) ?? []), gap]);
  };
  for (const { index, reversing } of layout.elements) {
    for (const { port, polarity } of reversing?.gaps ?? []) {
      const named = readPort(layout, port);
      const met = graph.mates.get(portKey(named.element, named.port));
      add(named.element, named.port, { reversing: index, polarity });
      if (met !== undefined) add(met.element, met.port, { reversing: index, polarity });
    }
  }
  return gaps;
}

function exitOf(
  way: BareWay,
  graph: WayGraph,
  gaps: ReadonlyMap<string, readonly Gap[]>,
): Exit | null {
  const key = portKey(way.element.index, way.exit);
  const mate = graph.mates.get(key);
  const ways = mate && graph.from.get(portKey(mate.element, mate.port));
  if (mate === undefined || ways === undefined) return null;
  return { element: mate.element, ways, gaps: gaps.get(key) ?? [] };
}

/** Cuts a way where its section or its fouling changes, in the order of travel. */
function cutPieces(
  layout: Layout,
  way: BareWay,
  fouling: readonly (readonly FoulingStretch[])[],
): readonly TrackPiece[] {
  const sections = sectionStretches(layout, way);
  const foul = foulingAtBothEnds(fouling, way.index, way.length);
  const own: Claim = { element: way.element.index, slot: way.leg };
  const cuts = [...sections, ...foul].flatMap(({ from, to }) => [from, to]);
  const ordered = [...new Set([0, ...cuts, way.length])].sort((left, right) => left - right);
  return ordered.slice(1).map((to, place): TrackPiece => {
    const from = ordered[place]!;
    const covers = (stretch: { from: number; to: number }): boolean =>
      stretch.from <= from && stretch.to >= to;
    return {
      from,
      to,
      section: sections.find(covers)?.section ?? -1,
      claims: [own, ...foul.filter(covers).map(({ claim }) => claim)],
    };
  });
}

function sectionStretches(
  layout: Layout,
  { element, along, length }: BareWay,
): readonly { readonly section: number; readonly from: number; readonly to: number }[] {
  const indexOf = (id: string | null): number =>
    id === null ? -1 : (layout.sectionByName.get(id) ?? -1);
  const { file } = element;
  if (file === null || file.kind === 'buffer-stop') return [];
  if (file.kind !== 'block') return [{ section: indexOf(file.section), from: 0, to: length }];
  const parts = along ? file.detection : file.detection.toReversed();
  let from = 0;
  return parts.map((part) => {
    const stretch = { section: indexOf(part.section), from, to: from + part.length };
    from = stretch.to;
    return stretch;
  });
}
