import type { Chains, Piece } from './chains.js';
import { findChains } from './chains.js';
import { keepDistances } from './distances.js';
import { extentOf, ROW } from './extents.js';
import { layRows } from './lanes.js';
import { RowDistances } from './row-distances.js';
import { portOf } from './track-net.js';

export type Point = readonly [number, number];

/** Where the ports of a piece's elements lie, and the bends of its blocks from `a` to `b`; by number. */
export interface DrawnPiece {
  readonly at: Map<number, Point>;
  readonly via: Map<number, readonly Point[]>;
}

/** Draws a piece: rows from left to right, turnout legs at 45° wherever they can be. */
export function drawPiece(piece: Piece): DrawnPiece {
  const { net, facing, members } = piece;
  const found = findChains(piece);
  // As if every leg led into the next row: about where everything will lie.
  const flat = new RowDistances(
    piece,
    found,
    found.chains.map(() => 0),
  );
  const about = keepDistances(flat.places, flat.alongTrack());
  const xOf = (port: number): number => about[flat.placeOf(port)] ?? 0;
  const extents = found.chains.map((chain) => extentOf(piece, found, chain, xOf));
  const room = new RowDistances(piece, found, layRows(piece, found, extents, xOf));
  const x = keepDistances(room.places, room.all(extents, xOf));
  const at = new Map<number, Point>();
  const via = new Map<number, readonly Point[]>();
  for (const element of members)
    for (const port of net.portsOf[element]?.values() ?? [])
      at.set(port, [x[room.placeOf(port)] ?? 0, room.rowOf(port) * ROW]);
  for (const element of members) {
    if (!facing.turning.has(element)) continue;
    const [a, b] = [at.get(portOf(net, element, 'a')), at.get(portOf(net, element, 'b'))];
    if (a && b) via.set(element, loopBends(a, b, x[room.farEndOf(element)] ?? 0));
  }
  bendBlocks(piece, found, { at, via });
  return { at, via };
}

/** Out to `edge`, round, and back. */
export function loopBends([ax, ay]: Point, [bx, by]: Point, edge: number): readonly Point[] {
  const out = edge > Math.max(ax, bx) ? 1 : -1;
  const corner = Math.min(Math.abs(by - ay) / 2, ROW / 2);
  const down = Math.sign(by - ay);
  return [
    [edge - out * corner, ay],
    [edge, ay + down * corner],
    [edge, by - down * corner],
    [edge - out * corner, by],
  ];
}

/** A leg over several rows ends beside its turnout where a block follows: the block bends into its row then. */
function bendBlocks({ net, mate }: Piece, { chains }: Chains, { at, via }: DrawnPiece): void {
  const bends = new Map<number, { a?: Point; b?: Point }>();
  for (const { strands, from, to } of chains) {
    for (const [port, strand] of [
      [from, strands[0]],
      [to, strands.at(-1)],
    ] as const) {
      const leg = net.ports[port];
      const element = strand?.element ?? -1;
      if (!leg || net.file.elements[element]?.kind !== 'block' || via.has(element)) continue;
      if (net.portsOf[leg.element]?.has('stem') !== true) continue;
      const stem = at.get(portOf(net, leg.element, 'stem'));
      const end = at.get(port);
      const joined = mate[port] ?? -1;
      if (!stem || !end) continue;
      const [dx, dy] = [end[0] - stem[0], end[1] - stem[1]];
      if (Math.abs(dy) <= ROW || Math.abs(dx) < Math.abs(dy)) continue;
      const near: Point = [stem[0] + Math.sign(dx) * ROW, stem[1] + Math.sign(dy) * ROW];
      const bend: Point = [stem[0] + Math.sign(dx) * Math.abs(dy), end[1]];
      at.set(port, near).set(joined, near);
      const own = net.ports[joined]?.name === 'a' ? { a: bend } : { b: bend };
      bends.set(element, { ...bends.get(element), ...own });
    }
  }
  for (const [element, { a, b }] of bends)
    via.set(
      element,
      [a, b].filter((bend) => bend !== undefined),
    );
}
