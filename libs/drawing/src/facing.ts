import { OffsetSets } from './sets.js';
import type { TrackNet } from './track-net.js';

/** Which way every port looks, and where that can't be made to fit. */
export interface Facing {
  /** By port: whether the track goes on to the right of it. */
  readonly right: readonly boolean[];
  /** Blocks whose two ends look the same way: trains turn there. */
  readonly turning: ReadonlySet<number>;
  /** Ports of joins that can't be drawn as such: both look the same way. */
  readonly torn: ReadonlySet<number>;
  /** By port: the part of the layout whose ports can only be turned together. */
  readonly part: readonly number[];
}

/**
 * Turns every element so that joined ports look at each other, and both ends of a block different ways, as far as
 * that can be. Where trains can turn it can't: then a block gives way, a reversing section first, plain line
 * next, a station's track last.
 */
export function faceElements(net: TrackNet): Facing {
  const { file, ports, portsOf } = net;
  const sets = new OffsetSets(ports.length);
  file.elements.forEach(({ kind }, element) => {
    const own = [...(portsOf[element]?.values() ?? [])];
    if (kind === 'block') return;
    const first = own[0];
    for (const port of own.slice(1))
      if (first !== undefined)
        sets.tie(first, port, ports[port]?.side === ports[first]?.side ? 0 : 1, 2);
  });
  const torn = new Set<number>();
  ports.forEach(({ mate }, port) => {
    if (mate > port && !sets.tie(port, mate, 1, 2)) torn.add(port).add(mate);
  });
  const turning = new Set<number>();
  for (const element of blocksByStraightness(net)) {
    const [a, b] = [...(portsOf[element]?.values() ?? [])];
    if (a !== undefined && b !== undefined && !sets.tie(a, b, 1, 2)) turning.add(element);
  }
  const found = ports.map((_, port) => sets.find(port));
  // The first port of each part looks left, if it is of its element's first side.
  const turned = new Map<number, boolean>();
  const right = found.map(({ root, offset }, port) => {
    const odd = offset % 2 !== 0;
    if (!turned.has(root)) turned.set(root, odd !== (ports[port]?.side === 1));
    return odd !== turned.get(root);
  });
  return { right, turning, torn, part: found.map(({ root }) => root) };
}

/** Blocks in the order in which they are kept straight. */
function blocksByStraightness({ file }: TrackNet): readonly number[] {
  const reversing = new Set<string>(file.reversingSections.flatMap(({ elements }) => elements));
  const station = new Set<string>(
    file.stations.flatMap(({ tracks }) => tracks.flatMap(({ blocks }) => blocks)),
  );
  const rank = (id: string): number => (reversing.has(id) ? 2 : station.has(id) ? 0 : 1);
  return file.elements
    .map(({ id, kind }, element) => ({ element, kind, rank: rank(id) }))
    .filter(({ kind }) => kind === 'block')
    .toSorted((p, q) => p.rank - q.rank || p.element - q.element)
    .map(({ element }) => element);
}

/** The same with some parts turned round. */
export const turnedRound = (facing: Facing, parts: ReadonlySet<number>): Facing => ({
  ...facing,
  right: facing.right.map((right, port) => right !== parts.has(facing.part[port] ?? -1)),
});
