import type { Chain, Chains, Piece } from './chains.js';
import { isTurning } from './chains.js';
import { ROW, rowPort } from './extents.js';
import type { Extent } from './extents.js';
import { portOf } from './track-net.js';

/** Something that leads from one chain's row to another's. */
interface Tie {
  readonly one: number;
  readonly other: number;
  /** Where along the piece it leaves and arrives. */
  readonly from: number;
  readonly to: number;
  readonly weight: number;
}

/** What another row crossed costs, and another chain pushed aside, in rows to be bridged. */
const CROSSING = 10;
const PUSHED = 0.3;
/** A chain that so many others are joined to is a trunk, from which a fan or a ladder leads. */
const TRUNK = 4;
/** Turns lengths into parts of one. */
const NEARLY = 1e-9;
/** Tracks of a crossing lie side by side. */
const SIDE_BY_SIDE = 4;

/**
 * The row of every chain, counted downwards; the longest chain lies in row 0. Chains that share a row don't meet, and a row is chosen so that few
 * others are crossed on the way to it: a track beside the one it leaves, inner ones of a fan before outer ones.
 */
export function layRows(
  piece: Piece,
  found: Chains,
  extents: readonly Extent[],
  xOf: (port: number) => number,
): readonly number[] {
  const { chains } = found;
  const ties = findTies(piece, found, xOf);
  const tiesOf: Tie[][] = chains.map(() => []);
  for (const tie of ties) {
    tiesOf[tie.one]?.push(tie);
    tiesOf[tie.other]?.push(tie);
  }
  const rows = new Rows(extents, ties, tiesOf);
  const main = longest(chains);
  if (main >= 0) rows.put(main, 0);
  const waiting = new Set(chains.keys());
  waiting.delete(main);
  while (waiting.size > 0) {
    const chain = nextOf(waiting, rows, tiesOf, extents);
    waiting.delete(chain);
    rows.place(chain);
  }
  return rows.rows;
}

/** Trunks first; then what has no open ends; then the shortest, so that inner tracks come before outer ones. */
function nextOf(
  waiting: ReadonlySet<number>,
  { rows }: Rows,
  tiesOf: readonly (readonly Tie[])[],
  extents: readonly Extent[],
): number {
  let best = -1;
  let least = Infinity;
  for (const chain of waiting) {
    const others = (tiesOf[chain] ?? []).map(({ one, other }) => (one === chain ? other : one));
    const open = others.filter((other) => !Number.isFinite(rows[other] ?? NaN)).length;
    const tied = others.length > open;
    const { from, to } = extents[chain] ?? { from: 0, to: 0 };
    const trunk = others.length >= TRUNK;
    const key = (tied ? 0 : 4) + (trunk ? 0 : 2) + (open > 0 ? 1 : 0) + (to - from) * NEARLY;
    if (key >= least) continue;
    least = key;
    best = chain;
  }
  return best;
}

function longest(chains: readonly Chain[]): number {
  let best = -1;
  let most = -1;
  chains.forEach(({ strands }, index) => {
    if (strands.length <= most) return;
    most = strands.length;
    best = index;
  });
  return best;
}

class Rows {
  /** By chain; NaN while it has none. */
  readonly rows: number[];
  readonly #inRow = new Map<number, Set<number>>();
  readonly #extents: readonly Extent[];
  readonly #ties: readonly Tie[];
  readonly #tiesOf: readonly (readonly Tie[])[];

  constructor(
    extents: readonly Extent[],
    ties: readonly Tie[],
    tiesOf: readonly (readonly Tie[])[],
  ) {
    this.rows = extents.map(() => NaN);
    this.#extents = extents;
    this.#ties = ties;
    this.#tiesOf = tiesOf;
  }

  put(chain: number, row: number): void {
    this.#inRow.get(this.rows[chain] ?? NaN)?.delete(chain);
    this.rows[chain] = row;
    const there = this.#inRow.get(row);
    if (there) there.add(chain);
    else this.#inRow.set(row, new Set([chain]));
  }

  /** Finds the cheapest row for a chain and puts it there. */
  place(chain: number): void {
    const near = this.#partners(chain).map((other) => this.rows[other] ?? 0);
    const from = Math.min(0, ...this.#inRow.keys()) - 1;
    const to = Math.max(0, ...this.#inRow.keys()) + 1;
    let best: { row: number; pushed: readonly number[]; step: number; cost: number } | null = null;
    const offer = (row: number, step: number): void => {
      const pushed = step === 0 ? [] : this.#pushedBy(chain, row, step);
      if (step === 0 && this.#meets(chain, row).length > 0) return;
      const cost = this.#costAt(chain, row, new Set(pushed), step) + pushed.length * PUSHED;
      if (best === null || cost < best.cost) best = { row, pushed, step, cost };
    };
    for (let away = 0; away <= to - from; away += 1) {
      for (const row of away === 0 ? [0] : [away, -away]) {
        const middle = near[0] ?? 0;
        if (middle + row >= from && middle + row <= to) offer(middle + row, 0);
      }
    }
    for (const row of new Set(near)) {
      offer(row + 1, 1);
      offer(row - 1, -1);
      offer(row, 1);
      offer(row, -1);
    }
    const chosen = best as { row: number; pushed: readonly number[]; step: number } | null;
    for (const other of chosen?.pushed ?? [])
      this.put(other, (this.rows[other] ?? 0) + (chosen?.step ?? 0));
    this.put(chain, chosen?.row ?? to);
  }

  #partners(chain: number): readonly number[] {
    return (this.#tiesOf[chain] ?? [])
      .map(({ one, other }) => (one === chain ? other : one))
      .filter((other) => other !== chain && Number.isFinite(this.rows[other] ?? NaN));
  }

  /** Chains in a row that lie where this one does. */
  #meets(chain: number, row: number): readonly number[] {
    const own = this.#extents[chain];
    return [...(this.#inRow.get(row) ?? [])].filter((other) => {
      const its = this.#extents[other];
      return other !== chain && own && its && own.from <= its.to && its.from <= own.to;
    });
  }

  /** What would have to move on by a row, one after the other. */
  #pushedBy(chain: number, row: number, step: number): readonly number[] {
    const pushed = new Set<number>();
    const front = [{ chain, row }];
    for (const at of front) {
      for (const other of this.#meets(at.chain, at.row)) {
        if (other === chain || pushed.has(other)) continue;
        pushed.add(other);
        front.push({ chain: other, row: at.row + step });
      }
    }
    return [...pushed];
  }

  #costAt(chain: number, row: number, pushed: ReadonlySet<number>, step: number): number {
    const own = this.#extents[chain] ?? { from: 0, to: 0 };
    const rowOf = (other: number): number =>
      (this.rows[other] ?? NaN) + (pushed.has(other) ? step : 0);
    const meets = (other: number, { from, to }: Extent): boolean => {
      const its = this.#extents[other];
      return its !== undefined && its.from <= to && its.to >= from;
    };
    let cost = 0;
    for (const tie of this.#tiesOf[chain] ?? []) {
      const end = rowOf(tie.one === chain ? tie.other : tie.one);
      if (!Number.isFinite(end)) continue;
      cost += Math.abs(end - row) * tie.weight + Number(end === row);
      const [top, bottom] = [Math.min(end, row), Math.max(end, row)];
      for (let between = top; between <= bottom; between += 1)
        for (const other of this.#inRow.get(between) ?? []) {
          const there = rowOf(other);
          if (there > top && there < bottom && meets(other, tie)) cost += CROSSING;
        }
    }
    for (const { one, other, from, to } of this.#ties) {
      const [p, q] = [rowOf(one), rowOf(other)];
      const inside = Math.min(p, q) < row && row < Math.max(p, q);
      if (inside && from < own.to && to > own.from) cost += CROSSING;
    }
    return cost;
  }
}

/** The chain in whose row the element of a leg lies. */
const rowChain = (piece: Piece, found: Chains, leg: number): number =>
  found.chainOf[rowPort(piece, found, leg)] ?? -1;

function findTies(piece: Piece, found: Chains, xOf: (port: number) => number): readonly Tie[] {
  const { net, members } = piece;
  const { chains, chainOf, crossovers } = found;
  const ends = chains.flatMap(({ from, to }, chain) =>
    [from, to].flatMap((port): Tie[] => {
      if (port < 0) return [];
      const other = rowChain(piece, found, port);
      const at = xOf(rowPort(piece, found, port));
      // Beside a turning block's own end, as close as the two rows of a loop are.
      const weight = isTurning(piece, port) ? 2 : 1;
      return other < 0 ? [] : [{ one: chain, other, from: at, to: at, weight }];
    }),
  );
  const across = crossovers.flatMap(([left, right]): Tie[] => {
    const [one, other] = [rowChain(piece, found, left), rowChain(piece, found, right)];
    if (one < 0 || other < 0) return [];
    const at = xOf(left);
    return [{ one, other, from: at - ROW, to: at + ROW, weight: 1 }];
  });
  const crossings = members.flatMap((element): Tie[] => {
    const kind = net.file.elements[element]?.kind;
    if (kind !== 'crossing' && kind !== 'single-slip' && kind !== 'double-slip') return [];
    const [one, other] = ['a', 'b'].map((name) => chainOf[portOf(net, element, name)] ?? -1);
    const at = ['a', 'c'].map((name) => xOf(portOf(net, element, name)));
    const [from, to] = [Math.min(...at), Math.max(...at)];
    return [{ one: one ?? -1, other: other ?? -1, from, to, weight: SIDE_BY_SIDE }];
  });
  return [...ends, ...across, ...crossings].filter(({ one, other }) => one !== other);
}
