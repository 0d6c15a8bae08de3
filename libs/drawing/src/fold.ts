import type { Piece } from './chains.js';
import type { DrawnPiece, Point } from './draw-piece.js';

/** A part of a piece that is drawn from the left edge on, as a line of text is. */
export interface Strip {
  readonly members: readonly number[];
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** A piece wider than this many times the page is folded. */
const TOO_WIDE = 1.25;
/** Cutting track beside a turnout, and drawing on beyond the edge of the page, is as bad as so many more cuts. */
const AT_TURNOUT = 6;
const OVERHANG = 1 / 200;

interface Span {
  readonly element: number;
  readonly left: number;
  readonly right: number;
}

/** Divides a piece into strips about as wide as the page, where few tracks have to be cut; a single strip if it fits. */
export function foldPiece(piece: Piece, drawn: DrawnPiece, page: number): readonly Strip[] {
  const spans = piece.members.map((element): Span => {
    const xs = pointsOf(piece, drawn, element).map(([x]) => x);
    return { element, left: Math.min(...xs), right: Math.max(...xs) };
  });
  const left = spans.reduce((least, span) => Math.min(least, span.left), Infinity);
  const right = spans.reduce((most, span) => Math.max(most, span.right), -Infinity);
  const width = right - left;
  const cuts: number[] = [];
  if (width > page * TOO_WIDE) {
    const count = Math.ceil(width / page);
    const each = width / count;
    for (let cut = 1; cut < count; cut += 1)
      cuts.push(bestCut(piece, spans, left + (cut - 0.35) * each, left + (cut + 0.35) * each));
  }
  const strips: number[][] = Array.from({ length: cuts.length + 1 }, () => []);
  for (const span of spans)
    strips[cuts.filter((cut) => cut <= span.left).length]?.push(span.element);
  return strips
    .filter((members) => members.length > 0)
    .map((members) => stripOf(piece, drawn, members));
}

function pointsOf({ net }: Piece, { at, via }: DrawnPiece, element: number): readonly Point[] {
  const ports = [...(net.portsOf[element]?.values() ?? [])].flatMap((port) => {
    const point = at.get(port);
    return point ? [point] : [];
  });
  return [...ports, ...(via.get(element) ?? [])];
}

function stripOf(piece: Piece, drawn: DrawnPiece, members: readonly number[]): Strip {
  let [left, right, top, bottom] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const element of members) {
    for (const [x, y] of pointsOf(piece, drawn, element)) {
      left = Math.min(left, x);
      right = Math.max(right, x);
      top = Math.min(top, y);
      bottom = Math.max(bottom, y);
    }
  }
  return { members, left, right, top, bottom };
}

/** Where an element begins between `from` and `to` and the least has to be cut. */
function bestCut({ net, mate }: Piece, spans: readonly Span[], from: number, to: number): number {
  const spanOf = new Map(spans.map((span) => [span.element, span]));
  const plain = (element: number): boolean => net.file.elements[element]?.kind === 'block';
  let best = (from + to) / 2;
  let least = Infinity;
  const near = spans.filter((span) => span.right > from && span.left <= to);
  const candidates = new Set(
    near.map((span) => span.left).filter((left) => left > from && left <= to),
  );
  for (const cut of candidates) {
    let cost = Math.abs(cut - (from + to) / 2) / (to - from);
    for (const { element, left, right } of near) {
      if (left >= cut) continue;
      if (right > cut) cost += (right - cut) * OVERHANG;
      for (const port of net.portsOf[element]?.values() ?? []) {
        const other = net.ports[mate[port] ?? -1]?.element ?? -1;
        if ((spanOf.get(other)?.left ?? -Infinity) < cut) continue;
        cost += 1 + (plain(element) ? 0 : AT_TURNOUT) + (plain(other) ? 0 : AT_TURNOUT / 3);
      }
    }
    if (cost >= least) continue;
    least = cost;
    best = cut;
  }
  return best;
}
