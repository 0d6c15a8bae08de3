import { fault, placeOf } from '../../faults/fault.js';
import type { Fault } from '../../faults/fault.js';
import { PORTS } from '../element-legs.js';
import { sectionIdsOf } from '../elements.js';
import type { LayoutFile, ReversingSectionFile } from '../layout-file.js';
import type { ElementIndex } from '../layout.js';
import { gapSides, insideOf } from '../reversing.js';
import { portKey } from '../track-graph.js';
import type { Port, TrackGraph } from '../track-graph.js';

/** Reversing sections: gaps lie on the border, the whole border is gapped, none overlaps or adjoins another. */
export function checkReversingSections(file: LayoutFile, graph: TrackGraph): Fault[] {
  const insides = file.reversingSections.map((section) => insideOf(section, graph));
  return file.reversingSections.flatMap((section, index) => {
    const place = placeOf('reversingSections', index, section.id);
    const inside = insides[index] ?? new Set();
    const others = insides.slice(0, index);
    return [
      ...checkGaps(section, inside, place, graph),
      ...checkOverlap(inside, others, place, graph),
      ...checkDetection(file, inside, place),
    ];
  });
}

/** The joins where the reversing section meets other track. */
function borderOf(
  inside: ReadonlySet<ElementIndex>,
  graph: TrackGraph,
): readonly { inner: Port; outer: Port }[] {
  return [...inside].flatMap((element) => {
    const kind = graph.elements[element]?.kind;
    return (kind === undefined ? [] : PORTS[kind]).flatMap((port) => {
      const outer = graph.mate(element, port);
      return outer === null || inside.has(outer.element)
        ? []
        : [{ inner: { element, port }, outer }];
    });
  });
}

const portName = ({ element, port }: Port, graph: TrackGraph): string =>
  `${graph.elements[element]?.id}.${port}`;

function checkGaps(
  section: ReversingSectionFile,
  inside: ReadonlySet<ElementIndex>,
  place: string,
  graph: TrackGraph,
): Fault[] {
  const faults: Fault[] = [];
  const gapped = new Set<string>();
  section.gaps.forEach(({ port }, gap) => {
    const where = `${place} gaps[${gap}] ${port}`;
    const sides = gapSides(port, inside, graph);
    if (sides === null) {
      const at = borderOf(inside, graph).map(({ inner }) => portName(inner, graph));
      faults.push(
        fault(
          where,
          'the gap does not lie on the border of the reversing section',
          `name a port where the section meets other track: ${at.join(', ') || 'it has none'}`,
        ),
      );
      return;
    }
    const key = portKey(sides.inner.element, sides.inner.port);
    if (gapped.has(key)) faults.push(fault(where, 'this gap stands twice', 'remove one of them'));
    gapped.add(key);
  });
  for (const { inner, outer } of borderOf(inside, graph)) {
    if (gapped.has(portKey(inner.element, inner.port))) continue;
    faults.push(
      fault(
        place,
        `there is no gap between ${portName(inner, graph)} and ${portName(outer, graph)}`,
        'cut both rails wherever the section meets other track, and list the gap',
      ),
    );
  }
  return faults;
}

function checkOverlap(
  inside: ReadonlySet<ElementIndex>,
  others: readonly ReadonlySet<ElementIndex>[],
  place: string,
  graph: TrackGraph,
): Fault[] {
  const shared = [...inside].filter((element) => others.some((other) => other.has(element)));
  const adjoining = borderOf(inside, graph).filter(
    ({ inner, outer }) =>
      !shared.includes(inner.element) && others.some((other) => other.has(outer.element)),
  );
  return [
    ...shared.map((element) =>
      fault(
        place,
        `${graph.elements[element]?.id} belongs to another reversing section already`,
        'an element belongs to one reversing section at most',
      ),
    ),
    ...adjoining.map(({ inner, outer }) =>
      fault(
        place,
        `it meets another reversing section between ${portName(inner, graph)} and ${portName(outer, graph)}`,
        'leave track of fixed polarity between two reversing sections, or make them one',
      ),
    ),
  ];
}

/** Gaps cut both rails, so no detector sees track on both sides of one. */
function checkDetection(
  file: LayoutFile,
  inside: ReadonlySet<ElementIndex>,
  place: string,
): Fault[] {
  const outside = new Set(
    file.elements.flatMap((element, index) => (inside.has(index) ? [] : sectionIdsOf(element))),
  );
  const within = new Set(
    [...inside].flatMap((index) => {
      const element = file.elements[index];
      return element === undefined ? [] : sectionIdsOf(element);
    }),
  );
  return [...within]
    .filter((id) => outside.has(id))
    .map((id) =>
      fault(
        place,
        `section ${id} sees track inside and outside of it`,
        'the gaps part the rails: give the track inside a section of its own',
      ),
    );
}
