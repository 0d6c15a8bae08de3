import type { Facing } from './facing.js';
import type { TrackNet } from './track-net.js';
import { ROWS } from './track-net.js';

/** What is laid out in one go: a part of the net, every element facing its way and ranked from the left. */
export interface Piece {
  readonly net: TrackNet;
  readonly facing: Facing;
  readonly rank: readonly number[];
  readonly members: readonly number[];
  /** By port: the port joined to it in the drawing, or −1. */
  readonly mate: readonly number[];
}

/** The way through an element along a row; −1 where the track ends or, in a turning block, comes back. */
export interface Strand {
  readonly element: number;
  readonly left: number;
  readonly right: number;
}

/** Elements in one row. A chain without strands only leads from a turnout's leg to the other end of a turning block. */
export interface Chain {
  readonly strands: readonly Strand[];
  /** Ports of other chains that its ends are joined to: a turnout's leg, or a turning block's far end; −1: none. */
  readonly from: number;
  readonly to: number;
}

export interface Chains {
  readonly chains: readonly Chain[];
  /** By port: the chain whose row it lies in, −1 for a leg that leads out of its turnout's row. */
  readonly chainOf: readonly number[];
  /** Legs joined to each other, each pair once. */
  readonly crossovers: readonly (readonly [number, number])[];
}

/** Divides a piece into rows-to-be. */
export function findChains(piece: Piece): Chains {
  const { net, facing, mate, rank, members } = piece;
  const { ports, portsOf } = net;
  const strands = members.flatMap((element) => strandsOf(net, facing, element, mate));
  const strandAt = new Map<number, number>();
  strands.forEach(({ left, right }, index) => {
    if (left >= 0) strandAt.set(left, index);
    if (right >= 0) strandAt.set(right, index);
  });
  const chainOf = new Array<number>(ports.length).fill(-1);
  const chains: Chain[] = [];
  const used = new Set<number>();
  const byRank = strands
    .map((strand, index) => ({ strand, index, rank: rank[strand.element] ?? 0 }))
    .toSorted((p, q) => p.rank - q.rank || p.index - q.index);
  const put = (chain: Chain): void => {
    for (const { left, right } of chain.strands) {
      if (left >= 0) chainOf[left] = chains.length;
      if (right >= 0) chainOf[right] = chains.length;
    }
    chains.push(chain);
  };
  for (const { index } of byRank) {
    if (used.has(index)) continue;
    const row: Strand[] = [];
    let at: number | undefined = index;
    // Back to the first of its row: strands of a row have rising ranks, so that this ends.
    for (let first: number | undefined = index; first !== undefined && !used.has(first);) {
      at = first;
      first = strandAt.get(mate[strands[first]?.left ?? -1] ?? -1);
    }
    while (at !== undefined && !used.has(at)) {
      used.add(at);
      const strand: Strand | undefined = strands[at];
      if (!strand) break;
      row.push(strand);
      at = strandAt.get(mate[strand.right] ?? -1);
    }
    const outer = (port: number | undefined): number => {
      const joined = mate[port ?? -1] ?? -1;
      return strandAt.has(joined) ? -1 : joined;
    };
    put({ strands: row, from: outer(row[0]?.left), to: outer(row.at(-1)?.right) });
  }
  const crossovers: [number, number][] = [];
  const alone = (port: number): boolean => port >= 0 && !strandAt.has(port);
  for (const element of members) {
    for (const port of portsOf[element]?.values() ?? []) {
      const other = mate[port] ?? -1;
      if (!alone(port) || !alone(other) || port > other) continue;
      const [left, right] = facing.right[port] ? [port, other] : [other, port];
      if (isTurning(piece, left) || isTurning(piece, right))
        put({ strands: [], from: left, to: right });
      else crossovers.push([left, right]);
    }
  }
  return { chains, chainOf, crossovers };
}

export const isTurning = ({ net, facing }: Piece, port: number): boolean =>
  facing.turning.has(net.ports[port]?.element ?? -1);

function strandsOf(
  { file, ports, portsOf }: TrackNet,
  { right, turning }: Facing,
  element: number,
  mate: readonly number[],
): readonly Strand[] {
  const found = file.elements[element];
  const own = portsOf[element];
  if (!found || !own) return [];
  const port = (name: string): number => own.get(name) ?? -1;
  const ended = (only: number): Strand =>
    right[only] ? { element, left: -1, right: only } : { element, left: only, right: -1 };
  if (found.kind === 'buffer-stop') return [ended(port('a'))];
  if (turning.has(element)) {
    // The end that goes on straight makes the row; its other end is where a leg leads.
    const [a, b] = [port('a'), port('b')];
    const straight = (end: number): boolean => !LEGS.has(ports[mate[end] ?? -1]?.name ?? '');
    return [ended(straight(a) || !straight(b) ? a : b)];
  }
  return ROWS[found.kind].map(([one, other]) =>
    right[port(one)]
      ? { element, left: port(other), right: port(one) }
      : { element, left: port(one), right: port(other) },
  );
}

const LEGS: ReadonlySet<string> = new Set(['diverging', 'left', 'right']);
