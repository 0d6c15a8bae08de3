import type { Facing } from './facing.js';
import type { TrackNet } from './track-net.js';

/** How many cuts are tried out before one is made. */
const TRIED = 24;

export interface Ranks {
  /** By element: how many elements lie to the left of it at least. */
  readonly rank: readonly number[];
  /** Ports of joins that are drawn apart, because the track goes round and comes back there. */
  readonly cut: ReadonlySet<number>;
}

/** Orders elements from left to right. Track that goes round in a ring is cut where it is plainest. */
export function rankElements(net: TrackNet, { right, torn }: Facing): Ranks {
  const { ports, file } = net;
  const cut = new Set<number>(torn);
  const station = new Set<string>(
    file.stations.flatMap(({ tracks }) => tracks.flatMap(({ blocks }) => blocks)),
  );
  const isLine = (element: number): boolean => {
    const found = file.elements[element];
    return found?.kind === 'block' && !station.has(found.id);
  };
  /** Joins by the port on their left that looks right. */
  const joins = ports.flatMap(({ mate }, port) => (right[port] && mate >= 0 ? [port] : []));
  const from = (port: number): number => ports[port]?.element ?? -1;
  const to = (port: number): number => ports[ports[port]?.mate ?? -1]?.element ?? -1;
  for (;;) {
    const open = joins.filter((port) => !cut.has(port));
    const ring = ringOf(file.elements.length, open, from, to);
    if (ring.length === 0) break;
    const plainness = (port: number): number =>
      Number(isLine(from(port))) + Number(isLine(to(port)));
    const plainest = Math.max(...ring.map(plainness));
    const plain = ring.filter((port) => plainness(port) === plainest);
    const stride = Math.max(1, Math.floor(plain.length / TRIED));
    let best = -1;
    let least = Infinity;
    for (let at = 0; at < plain.length; at += stride) {
      const port = plain[at] ?? -1;
      const left = ringOf(
        file.elements.length,
        ring.filter((other) => other !== port),
        from,
        to,
      ).length;
      if (left >= least) continue;
      least = left;
      best = port;
    }
    cut.add(best).add(ports[best]?.mate ?? -1);
  }
  const order = sorted(
    file.elements.length,
    joins.filter((port) => !cut.has(port)),
    from,
    to,
  );
  return { rank: order, cut };
}

type End = (port: number) => number;

/** The joins that lie on a ring, or between two: what is left when ends are taken off until there are none. */
function ringOf(size: number, joins: readonly number[], from: End, to: End): readonly number[] {
  const leaving: number[][] = Array.from({ length: size }, () => []);
  const coming: number[][] = Array.from({ length: size }, () => []);
  for (const port of joins) {
    leaving[from(port)]?.push(port);
    coming[to(port)]?.push(port);
  }
  const outs = leaving.map(({ length }) => length);
  const ins = coming.map(({ length }) => length);
  const left = new Set(joins);
  const ends = outs.flatMap((out, element) => (out === 0 || ins[element] === 0 ? [element] : []));
  for (const element of ends) {
    for (const port of [...(leaving[element] ?? []), ...(coming[element] ?? [])]) {
      if (!left.delete(port)) continue;
      const [start, end] = [from(port), to(port)];
      if (start !== element && (outs[start] = (outs[start] ?? 0) - 1) === 0) ends.push(start);
      if (end !== element && (ins[end] = (ins[end] ?? 0) - 1) === 0) ends.push(end);
    }
  }
  return joins.filter((port) => left.has(port));
}

/** Longest number of joins from the left. */
function sorted(size: number, joins: readonly number[], from: End, to: End): readonly number[] {
  const next: number[][] = Array.from({ length: size }, () => []);
  const waits = new Array<number>(size).fill(0);
  for (const port of joins) {
    next[from(port)]?.push(to(port));
    waits[to(port)] = (waits[to(port)] ?? 0) + 1;
  }
  const rank = new Array<number>(size).fill(0);
  const ready = waits.flatMap((count, element) => (count === 0 ? [element] : []));
  for (let at = 0; at < ready.length; at += 1) {
    const element = ready[at] ?? -1;
    for (const other of next[element] ?? []) {
      rank[other] = Math.max(rank[other] ?? 0, (rank[element] ?? 0) + 1);
      waits[other] = (waits[other] ?? 0) - 1;
      if (waits[other] === 0) ready.push(other);
    }
  }
  return rank;
}
