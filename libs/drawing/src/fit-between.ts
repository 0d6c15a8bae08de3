import type { Piece } from './chains.js';
import { drawPiece, loopBends } from './draw-piece.js';
import type { DrawnPiece, Point } from './draw-piece.js';
import { LOOP, ROW } from './extents.js';
import { turnedRound } from './facing.js';
import { meeting } from './segments.js';
import type { Segment } from './segments.js';
import { portOf } from './track-net.js';
import type { TrackNet } from './track-net.js';

/** A port of a piece that is joined to track which has its place already, and that place. */
export interface Anchor {
  readonly port: number;
  readonly at: Point;
  /** Whether the track that is drawn already lies to the left of it; null where that can't be told. */
  readonly fromLeft: boolean | null;
}

/** Rows by which a piece may be moved to get out of the way of others. */
const MOVES = [0, 1, -1, 2, -2, 3, -3];

/**
 * Draws a piece between what is drawn already: its joined ports lie where they are joined, the rest in proportion. Of
 * ways to turn and move it, the one that meets least of the `others`. `unit`: how large the file is drawn, in units of ours.
 */
export function fitBetween(
  piece: Piece,
  anchors: readonly Anchor[],
  others: readonly Segment[],
  unit: number,
): DrawnPiece {
  const wrong = anchors.filter(
    ({ port, fromLeft }) => fromLeft !== null && fromLeft === piece.facing.right[port],
  ).length;
  const right = anchors.filter(({ fromLeft }) => fromLeft !== null).length - wrong;
  const turned = wrong > right ? roundAbout(piece) : piece;
  const drawn = drawPiece(turned);
  let best: DrawnPiece | null = null;
  let least = Infinity;
  for (const move of anchors.length > 1 ? MOVES.slice(0, 1) : MOVES) {
    for (const flip of [1, -1]) {
      const fitted = fit(drawn, anchors, unit, flip, move);
      bendLoops(turned, fitted, unit);
      const met = meeting(segmentsOf(piece.net, fitted, piece.members), others);
      const cost = met * 4 + slant(drawn, anchors, unit, flip) / ROW + Math.abs(move) / 4;
      if (cost >= least) continue;
      least = cost;
      best = fitted;
    }
  }
  return best ?? drawn;
}

/** The piece drawn from right to left. */
const roundAbout = (piece: Piece): Piece => ({
  ...piece,
  facing: turnedRound(piece.facing, new Set(piece.facing.part)),
  rank: piece.rank.map((rank) => -rank),
});

/** How far up or down the piece would have to go from one joined port to another, less what it does. */
function slant(drawn: DrawnPiece, anchors: readonly Anchor[], unit: number, flip: number): number {
  const off = anchors.map(({ port, at }) => at[1] - (drawn.at.get(port)?.[1] ?? 0) * unit * flip);
  return Math.max(0, Math.max(...off) - Math.min(...off)) / unit;
}

function fit(
  drawn: DrawnPiece,
  anchors: readonly Anchor[],
  unit: number,
  flip: number,
  move: number,
): DrawnPiece {
  const own = anchors.map(({ port }) => drawn.at.get(port) ?? ([0, 0] as const));
  const left = own.reduce((best, [x], index) => (x < (own[best]?.[0] ?? 0) ? index : best), 0);
  const right = own.reduce((best, [x], index) => (x > (own[best]?.[0] ?? 0) ? index : best), 0);
  const [ownLeft, ownRight] = [own[left]?.[0] ?? 0, own[right]?.[0] ?? 0];
  const [toLeft, toRight] = [anchors[left]?.at[0] ?? 0, anchors[right]?.at[0] ?? 0];
  const stretched = ownRight > ownLeft && toRight > toLeft;
  const scale = stretched ? (toRight - toLeft) / (ownRight - ownLeft) : unit;
  const middle = anchors.reduce(
    (sum, { at }, index) => sum + at[1] - (own[index]?.[1] ?? 0) * unit * flip,
    0,
  );
  const down = middle / anchors.length + move * ROW * unit;
  const moved = ([x, y]: Point): Point => [toLeft + (x - ownLeft) * scale, y * unit * flip + down];
  const at = new Map([...drawn.at].map(([port, point]) => [port, moved(point)] as const));
  for (const anchor of anchors) at.set(anchor.port, anchor.at);
  const via = new Map(
    [...drawn.via].map(([element, bends]) => [element, bends.map(moved)] as const),
  );
  return { at, via };
}

/** Turning blocks lead out beyond both of their ends, wherever these had to lie. */
function bendLoops({ net, facing, members }: Piece, { at, via }: DrawnPiece, unit: number): void {
  for (const element of members) {
    if (!facing.turning.has(element)) continue;
    const [a, b] = ['a', 'b'].map((name) => at.get(portOf(net, element, name)));
    if (!a || !b) continue;
    const edge = facing.right[portOf(net, element, 'a')]
      ? Math.min(a[0], b[0]) - LOOP * unit
      : Math.max(a[0], b[0]) + LOOP * unit;
    via.set(element, loopBends(a, b, edge));
  }
}

/** The lines of elements as they are drawn. */
export function segmentsOf(
  net: TrackNet,
  { at, via }: DrawnPiece,
  members: readonly number[],
): readonly Segment[] {
  return members.flatMap((element) => {
    const own = [...(net.portsOf[element]?.values() ?? [])].map((port) => at.get(port));
    const kind = net.file.elements[element]?.kind;
    const points = own.filter((point) => point !== undefined);
    if (kind === 'block') {
      const [a, b] = points;
      return a && b ? alongside([a, ...(via.get(element) ?? []), b], element) : [];
    }
    const [first, second, third, fourth] = points;
    if (kind === 'turnout' || kind === 'three-way')
      return points
        .slice(1)
        .flatMap((leg): Segment[] => (first ? [{ from: first, to: leg, element }] : []));
    if (!first || !second || !third || !fourth) return [];
    return [
      { from: first, to: third, element },
      { from: second, to: fourth, element },
    ];
  });
}

const alongside = (points: readonly Point[], element: number): readonly Segment[] =>
  points.flatMap((to, index) => {
    const from = points[index - 1];
    return from ? [{ from, to, element }] : [];
  });
