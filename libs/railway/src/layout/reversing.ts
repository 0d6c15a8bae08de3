import type { LayoutFile } from './layout-file.js';
import type { ElementIndex, Step } from './layout.js';
import { findPort, portKey } from './track-graph.js';
import type { Port, TrackGraph } from './track-graph.js';

/** The positions of a reversing section's drive. */
export const POLARITIES: readonly string[] = ['normal', 'reversed'];

/** Rail gaps by the port a train enters an element through. */
export type GapsByPort = ReadonlyMap<string, Step['gaps']>;

/** The elements of a reversing section. */
export const insideOf = (
  section: LayoutFile['reversingSections'][number],
  graph: TrackGraph,
): ReadonlySet<ElementIndex> =>
  new Set(section.elements.flatMap((id) => graph.indexOf.get(id) ?? []));

/**
 * The two sides of a gap: the port inside the reversing section and the one outside. The file may name either;
 * null when the port is unknown or doesn't lie on the section's border.
 */
export function gapSides(
  text: string,
  inside: ReadonlySet<ElementIndex>,
  graph: TrackGraph,
): { readonly inner: Port; readonly outer: Port } | null {
  const named = findPort(graph.elements, graph.indexOf, text);
  const met = named === null ? null : graph.mate(named.element, named.port);
  if (named === null || met === null || inside.has(named.element) === inside.has(met.element)) {
    return null;
  }
  return inside.has(named.element) ? { inner: named, outer: met } : { inner: met, outer: named };
}

/**
 * Where trains cross a rail gap and which polarity the reversing section must have then. It counts in both
 * directions: a train that leaves bridges the gap just as one that enters does. Reversing sections are numbered
 * after the file's elements.
 */
export function gapsByPort(file: LayoutFile, graph: TrackGraph): GapsByPort {
  const gaps = new Map<string, Step['gaps']>();
  const add = (port: Port, gap: Step['gaps'][number]): void => {
    const key = portKey(port.element, port.port);
    gaps.set(key, [...(gaps.get(key) ?? []), gap]);
  };
  file.reversingSections.forEach((section, index) => {
    const inside = insideOf(section, graph);
    for (const { port, polarity } of section.gaps) {
      const sides = gapSides(port, inside, graph);
      if (sides === null) continue;
      const gap = { element: file.elements.length + index, polarity };
      add(sides.inner, gap);
      add(sides.outer, gap);
    }
  });
  return gaps;
}
