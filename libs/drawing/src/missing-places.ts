import type { Drawing, LayoutFile } from '@blockbell/railway';
import type { Piece } from './chains.js';
import { drawPiece } from './draw-piece.js';
import type { DrawnPiece, Point } from './draw-piece.js';
import { ROW } from './extents.js';
import { faceElements, turnedRound } from './facing.js';
import type { Facing } from './facing.js';
import { fitBetween, segmentsOf } from './fit-between.js';
import type { Anchor } from './fit-between.js';
import { levelsOf } from './levels.js';
import { setPage } from './page.js';
import type { LaidPiece } from './page.js';
import type { Places } from './places.js';
import { rankElements } from './ranks.js';
import { trackNet } from './track-net.js';
import type { TrackNet } from './track-net.js';

/** Room between what the file places and what isn't joined to it. */
const BELOW_GIVEN = 190;

/**
 * A place for every element that the file places nowhere, laid out as track diagrams are: the railway from left to right,
 * parallel tracks in parallel rows, every level on its own, joined to what the file does place. The same file gives the same
 * places.
 */
export function missingPlaces(file: LayoutFile): Places {
  const missing = file.elements.flatMap(({ draw }, element) => (draw ? [] : [element]));
  if (missing.length === 0) return {};
  const net = trackNet(file);
  const level = levelsOf(net);
  const facing = eastwards(net, faceElements(net));
  const { rank, cut } = rankElements(net, facing);
  const mate = net.ports.map(({ element, mate: other }, port) => {
    const joined = net.ports[other]?.element ?? -1;
    return other < 0 || cut.has(port) || level[element] !== level[joined] ? -1 : other;
  });
  const pieces = connected(net, mate, missing).map((members): Piece => ({
    net,
    facing,
    rank,
    mate: within(net, mate, members),
    members,
  }));
  const done = givenDrawing(net);
  const given = file.elements.flatMap(({ draw }, element) => (draw ? [element] : []));
  const free: LaidPiece[] = [];
  const unit = drawnUnit(file);
  for (const piece of pieces) {
    const own = level[piece.members[0] ?? -1] ?? 0;
    const anchors = anchorsOf(piece, mate, done);
    if (anchors.length === 0) {
      free.push({ piece, drawn: drawPiece(piece), level: own });
      continue;
    }
    const others = segmentsOf(
      net,
      done,
      given.filter((element) => level[element] === own),
    );
    const fitted = fitBetween(piece, anchors, others, unit);
    for (const [port, point] of fitted.at) done.at.set(port, point);
    for (const [element, bends] of fitted.via) done.via.set(element, bends);
    given.push(...piece.members);
  }
  const lowest = [...done.at.values()].reduce((most, [, y]) => Math.max(most, y), -Infinity);
  const page = setPage(free, given.length === 0 ? 0 : lowest + BELOW_GIVEN * unit);
  for (const [port, point] of page.at) done.at.set(port, point);
  for (const [element, bends] of page.via) done.via.set(element, bends);
  return placesOf(missing, net, level, done);
}

/** Joins within a group alone: what is joined to others is an end of it. */
function within(
  { ports }: TrackNet,
  mate: readonly number[],
  members: readonly number[],
): readonly number[] {
  const own = new Set(members);
  return mate.map((other) => (own.has(ports[other]?.element ?? -1) ? other : -1));
}

/** Connected groups of the elements, each in the order of the file. */
function connected(
  { ports, portsOf }: TrackNet,
  mate: readonly number[],
  elements: readonly number[],
): readonly (readonly number[])[] {
  const waiting = new Set(elements);
  const groups: number[][] = [];
  for (const first of elements) {
    if (!waiting.delete(first)) continue;
    const group = [first];
    for (const element of group) {
      for (const port of portsOf[element]?.values() ?? []) {
        const other = ports[mate[port] ?? -1]?.element ?? -1;
        if (waiting.delete(other)) group.push(other);
      }
    }
    groups.push(group.toSorted((p, q) => p - q));
  }
  return groups;
}

/** Turns parts of the layout so that stations stand in the order of their distance along the line. */
function eastwards(net: TrackNet, facing: Facing): Facing {
  const { rank } = rankElements(net, facing);
  const places = net.file.stations.flatMap(({ chainage, tracks }) =>
    tracks
      .flatMap(({ blocks }) => blocks)
      .flatMap((block) => {
        const element = net.file.elements.findIndex(({ id }) => id === block);
        const port = [...(net.portsOf[element]?.values() ?? [])][0];
        return port === undefined
          ? []
          : [{ chainage, rank: rank[element] ?? 0, part: facing.part[port] ?? -1 }];
      }),
  );
  const turned = new Set<number>();
  for (const part of new Set(places.map((place) => place.part))) {
    const own = places.filter((place) => place.part === part);
    const mean = (values: readonly number[]): number =>
      values.reduce((sum, value) => sum + value, 0) / values.length;
    const middle = mean(own.map(({ chainage }) => chainage));
    const centre = mean(own.map((place) => place.rank));
    const together = own.reduce(
      (sum, place) => sum + (place.chainage - middle) * (place.rank - centre),
      0,
    );
    if (together < 0) turned.add(part);
  }
  return turnedRound(facing, turned);
}

/** What the file places. */
function givenDrawing({ file, portsOf }: TrackNet): DrawnPiece {
  const at = new Map<number, Point>();
  const via = new Map<number, readonly Point[]>();
  file.elements.forEach(({ draw }, element) => {
    if (!draw) return;
    for (const [name, port] of portsOf[element] ?? []) {
      const point = draw.ports[name];
      if (point) at.set(port, point);
    }
    if (draw.via) via.set(element, draw.via);
  });
  return { at, via };
}

function anchorsOf(
  { net, members }: Piece,
  mate: readonly number[],
  { at }: DrawnPiece,
): readonly Anchor[] {
  return members.flatMap((element) =>
    [...(net.portsOf[element]?.values() ?? [])].flatMap((port): readonly Anchor[] => {
      const other = mate[port] ?? -1;
      const point = at.get(other);
      const joined = net.ports[other];
      if (!point || !joined) return [];
      const far = [...(net.portsOf[joined.element]?.values() ?? [])]
        .filter((own) => net.ports[own]?.side !== joined.side)
        .flatMap((own) => at.get(own) ?? []);
      const x = far[0];
      const fromLeft = x === undefined || x === point[0] ? null : x < point[0];
      return [{ port, at: point, fromLeft }];
    }),
  );
}

/** How large the file is drawn: the size of its turnouts, in units of ours. */
function drawnUnit({ elements }: LayoutFile): number {
  const sizes = elements.flatMap(({ draw }) => {
    const [straight, diverging] = [draw?.ports['straight'], draw?.ports['diverging']];
    if (!straight || !diverging) return [];
    const [dx, dy] = [straight[0] - diverging[0], straight[1] - diverging[1]];
    return [Math.sqrt(dx * dx + dy * dy)];
  });
  const middle = sizes.filter((size) => size > 0).toSorted((p, q) => p - q);
  return (middle[Math.floor(middle.length / 2)] ?? ROW) / ROW;
}

function placesOf(
  elements: readonly number[],
  { file, portsOf }: TrackNet,
  level: readonly number[],
  { at, via }: DrawnPiece,
): Places {
  const places = elements.map((index): [string, Drawing] => {
    const ports = [...(portsOf[index] ?? [])].map(([name, port]) => [name, at.get(port) ?? [0, 0]]);
    const bends = via.get(index) ?? [];
    const drawing: Drawing = {
      level: file.levels[level[index] ?? 0]?.id ?? '',
      ports: Object.fromEntries(ports),
      ...(bends.length > 0 ? { via: bends } : {}),
    };
    return [file.elements[index]?.id ?? '', drawing];
  });
  return Object.fromEntries(places);
}
