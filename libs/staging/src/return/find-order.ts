import { Heap } from './heap.js';
import { wantedForHome, type FoundMove, type FoundOrder, type Mover } from './mover.js';

/** Places looked at before the search ends with the best it has. */
export const USUAL_EFFORT = 400_000;

/** How much more than its least number of moves a train that is not home counts, while any order will do. */
const HASTE = 5;
/** What a train counts that can't come home any more from where it was put: looked at last. */
const LOST = 1000;

interface Reached<Way> {
  readonly nodes: readonly number[];
  readonly before: Reached<Way> | null;
  readonly move: FoundMove<Way> | null;
  readonly count: number;
}

/**
 * An order of moves that brings as many trains home as possible, one after the other, with as few moves as possible. A move takes a
 * train over track that nobody else holds to a place where it may stand; trains may be put aside on the way, and those that are
 * home already as well. Best first over the places of all trains (P. E. Hart, N. J. Nilsson, B. Raphael, A formal basis for the
 * heuristic determination of minimum cost paths, 1968): first in haste for any order, where a train only comes nearer or, being in somebody's
 * way, is put aside; then, with what is left of `effort`, for the shortest of all. Always ends, with the best order it came across.
 * @param barred resources that nobody may use
 */
export function findOrder<Way>(
  movers: readonly Mover<Way>[],
  barred: ReadonlySet<number>,
  effort: number = USUAL_EFFORT,
): FoundOrder<Way> {
  const search = new Search(movers, barred);
  const inHaste = search.run(HASTE, Math.floor(effort / 2), null);
  const best = search.run(1, effort - inHaste.spent, inHaste.best);
  const { nodes, count } = best.best;
  const moves: FoundMove<Way>[] = [];
  for (let at: Reached<Way> | null = best.best; at !== null && moves.length < count; at = at.before)
    moves.unshift(at.move!);
  return { moves, nodes, isBest: best.isBest };
}

interface Outcome<Way> {
  readonly best: Reached<Way>;
  readonly isBest: boolean;
  readonly spent: number;
}

class Search<Way> {
  readonly #start: readonly number[];
  /** Trains that could come home if they were alone. */
  readonly #able: readonly boolean[];
  readonly #most: number;
  /** By train and place: what its next run home would need if it were alone. */
  readonly #wanted: readonly Map<number, readonly number[]>[];

  constructor(
    private readonly movers: readonly Mover<Way>[],
    private readonly barred: ReadonlySet<number>,
  ) {
    this.#start = movers.map(({ start }) => start);
    this.#able = movers.map((mover) => mover.least(mover.start) < Infinity);
    this.#most = this.#able.filter(Boolean).length;
    this.#wanted = movers.map(() => new Map());
  }

  /** @param known the best order so far: nothing is looked at that can't be shorter than one that brings all home */
  run(haste: number, effort: number, known: Reached<Way> | null): Outcome<Way> {
    const first: Reached<Way> = { nodes: this.#start, before: null, move: null, count: 0 };
    const reached: Reached<Way>[] = [first];
    const counts = new Map<string, number>([[first.nodes.join(), 0]]);
    const open = new Heap();
    open.push(0, haste * this.#least(first.nodes), 0);
    let best = known ?? first;
    let home = this.#homeAt(best.nodes);
    let spent = 0;
    for (let item = open.pop(); item !== undefined; item = open.pop()) {
      const at = reached[item]!;
      if (counts.get(at.nodes.join())! < at.count) continue;
      const homeHere = this.#homeAt(at.nodes);
      if (homeHere > home || (homeHere === home && at.count < best.count)) {
        best = at;
        home = homeHere;
      }
      if (home === this.#most && (haste > 1 || at.count + this.#least(at.nodes) >= best.count))
        return { best, isBest: haste === 1, spent };
      if (spent >= effort) return { best, isBest: false, spent };
      for (const { nodes, move, looked } of this.#next(at.nodes, haste > 1)) {
        spent += looked;
        if (move === null) continue;
        const count = at.count + 1;
        const key = nodes.join();
        if ((counts.get(key) ?? Infinity) <= count) continue;
        counts.set(key, count);
        reached.push({ nodes, before: at, move, count });
        open.push(reached.length - 1, count + haste * this.#least(nodes), count);
      }
    }
    return { best, isBest: true, spent };
  }

  /** All that one move can lead to; each train's looking counts once. */
  *#next(
    nodes: readonly number[],
    isHasty: boolean,
  ): Generator<{ nodes: readonly number[]; move: FoundMove<Way> | null; looked: number }> {
    const holders = new Map<number, number>();
    this.movers.forEach((mover, index) => {
      for (const resource of mover.holds(nodes[index]!)) holders.set(resource, index);
    });
    const inTheWay = isHasty ? this.#inTheWay(nodes, holders) : null;
    for (const [index, mover] of this.movers.entries()) {
      const from = nodes[index]!;
      const mayGoAside = inTheWay?.has(index) !== false;
      const least = mover.least(from);
      if (!mayGoAside && (least === 0 || least === Infinity)) continue;
      const isFree = (resource: number): boolean =>
        (holders.get(resource) ?? index) === index && !this.barred.has(resource);
      yield { nodes, move: null, looked: 1 };
      for (const reach of mover.reach(from, isFree)) {
        if (!mayGoAside && mover.least(reach.to) >= least) continue;
        const after = nodes.slice();
        after[index] = reach.to;
        yield { nodes: after, move: { mover: index, from, reach }, looked: 1 };
      }
    }
  }

  /** Trains that hold what another needs for its next run home. */
  #inTheWay(nodes: readonly number[], holders: ReadonlyMap<number, number>): Set<number> {
    const found = new Set<number>();
    this.movers.forEach((_, index) => {
      for (const resource of this.#wantedBy(index, nodes[index]!)) {
        const holder = holders.get(resource) ?? index;
        if (holder !== index) found.add(holder);
      }
    });
    return found;
  }

  #wantedBy(index: number, node: number): readonly number[] {
    const known = this.#wanted[index]!.get(node);
    if (known !== undefined) return known;
    const wanted = wantedForHome(this.movers[index]!, node);
    this.#wanted[index]!.set(node, wanted);
    return wanted;
  }

  #least(nodes: readonly number[]): number {
    let sum = 0;
    this.movers.forEach((mover, index) => {
      if (this.#able[index] === true) sum += Math.min(LOST, mover.least(nodes[index]!));
    });
    return sum;
  }

  #homeAt(nodes: readonly number[]): number {
    return nodes.filter((node, index) => this.movers[index]!.isHome(node)).length;
  }
}
