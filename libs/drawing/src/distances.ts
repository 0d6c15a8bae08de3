import { OffsetSets } from './sets.js';

/** One place lies at least so far to the right of another. */
export interface Distance {
  readonly from: number;
  readonly to: number;
  readonly least: number;
  /**
   * `firm`: exactly so far, while that can be; `short`: exactly so far, while that costs no firm one; `track`: what is
   * stretched where needed; `order`: only keeps things apart.
   */
  readonly kind: 'firm' | 'short' | 'track' | 'order';
}

interface Edge extends Distance {
  readonly index: number;
}

interface Place {
  readonly root: number;
  readonly offset: number;
}

/**
 * Places on a line that keep all distances, as far left as they can lie, but for what only pulls to its right. Short
 * and firm distances become longer, and order is given up, only where nothing else is left.
 */
export function keepDistances(size: number, distances: readonly Distance[]): readonly number[] {
  const loose = new Set<number>();
  const dropped = new Set<number>();
  for (;;) {
    const sets = new OffsetSets(size);
    for (const kind of ['firm', 'short'] as const)
      distances.forEach((distance, index) => {
        if (distance.kind !== kind || loose.has(index)) return;
        if (!sets.tie(distance.from, distance.to, distance.least)) loose.add(index);
      });
    const found = Array.from({ length: size }, (_, place) => sets.find(place));
    const edges = distances.flatMap((distance, index): readonly Edge[] => {
      const p = found[distance.from];
      const q = found[distance.to];
      if (!p || !q || dropped.has(index)) return [];
      const least = distance.least + p.offset - q.offset;
      return p.root === q.root && least <= 0
        ? []
        : [{ from: p.root, to: q.root, least, kind: distance.kind, index }];
    });
    const { at, stuck } = pushed(size, edges);
    if (stuck.length === 0) return pulled(at, found, edges);
    const onRing = new Set(stuck.flatMap(({ from, to }) => [from, to]));
    const inSet = (place: number): boolean => onRing.has(found[place]?.root ?? -1);
    const loosened = (['short', 'firm'] as const).some((kind) => {
      const before = loose.size;
      distances.forEach((distance, index) => {
        if (distance.kind === kind && inSet(distance.from)) loose.add(index);
      });
      return loose.size > before;
    });
    if (loosened) continue;
    const orders = stuck.filter(({ kind }) => kind === 'order');
    for (const { index } of orders.length > 0 ? orders : stuck) dropped.add(index);
  }
}

/** How often everything is pushed before a ring of distances that can't be kept is looked for. */
const ROUNDS = 12;

/** Everything as far left as it can lie, or the distances of a ring that can't be kept. */
function pushed(
  size: number,
  edges: readonly Edge[],
): { readonly at: Float64Array; readonly stuck: readonly Edge[] } {
  const at = new Float64Array(size);
  const by: (Edge | undefined)[] = Array.from({ length: size });
  const own = edges.find(({ from, to }) => from === to);
  if (own) return { at, stuck: [own] };
  const order = edges.toSorted((p, q) => p.from - q.from);
  for (let round = 1; ; round += 1) {
    let moved = false;
    for (const edge of round % 2 === 0 ? order : edges) {
      const reached = (at[edge.from] ?? 0) + edge.least;
      if (reached <= (at[edge.to] ?? 0)) continue;
      at[edge.to] = reached;
      by[edge.to] = edge;
      moved = true;
    }
    if (!moved) return { at, stuck: [] };
    const ring = round % ROUNDS === 0 ? ringIn(by) : [];
    if (ring.length > 0) return { at, stuck: ring };
  }
}

/** Edges that push one another round and round. */
function ringIn(by: readonly (Edge | undefined)[]): readonly Edge[] {
  const seen = new Int32Array(by.length).fill(-1);
  for (let start = 0; start < by.length; start += 1) {
    let place = start;
    while (by[place] && seen[place] === -1) {
      seen[place] = start;
      place = by[place]?.from ?? place;
    }
    if (!by[place] || seen[place] !== start) continue;
    const ring: Edge[] = [];
    for (let edge = by[place]; edge && !ring.includes(edge); edge = by[edge.from]) ring.push(edge);
    return ring;
  }
  return [];
}

/** What more track leads on from than to is drawn towards where it leads. */
function pulled(
  at: Float64Array,
  found: readonly Place[],
  edges: readonly Edge[],
): readonly number[] {
  const onwards: Edge[][] = Array.from(at, () => []);
  const held = new Int32Array(at.length);
  for (const edge of edges) {
    onwards[edge.from]?.push(edge);
    if (edge.kind !== 'order') held[edge.to] = (held[edge.to] ?? 0) + 1;
  }
  const order = Array.from(at.keys()).toSorted((p, q) => (at[q] ?? 0) - (at[p] ?? 0) || p - q);
  for (const root of order) {
    const pull = onwards[root]?.filter(({ kind }) => kind !== 'order').length ?? 0;
    if (pull <= (held[root] ?? 0)) continue;
    const most = (onwards[root] ?? []).reduce(
      (least, edge) => Math.min(least, (at[edge.to] ?? 0) - edge.least),
      Infinity,
    );
    if (most > (at[root] ?? 0)) at[root] = most;
  }
  return found.map(({ root, offset }) => (at[root] ?? 0) + offset);
}
