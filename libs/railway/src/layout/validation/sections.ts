import { fault, placeOf } from '../../faults/fault.js';
import type { Fault } from '../../faults/fault.js';
import { checkTwice } from '../../faults/numbers.js';
import { PORTS } from '../element-legs.js';
import { sectionIdsOf } from '../elements.js';
import type { ElementFile, LayoutFile } from '../layout-file.js';
import type { ElementIndex } from '../layout.js';
import type { TrackGraph } from '../track-graph.js';
import { elementPlace } from './names.js';

/** Detector inputs: one address each, and each sees one connected stretch of track. */
export function checkSections(file: LayoutFile, graph: TrackGraph): Fault[] {
  const users = new Map<string, ElementIndex[]>();
  file.elements.forEach((element, index) => {
    for (const id of sectionIdsOf(element)) users.set(id, [...(users.get(id) ?? []), index]);
  });

  return [
    ...checkTwice(
      file.sections,
      ({ bus, address }) => `${address} of bus ${bus}`,
      ({ id }, index) => placeOf('sections', index, id),
      'detector address',
      'give each section an address of its own on its bus',
    ),
    ...file.sections.flatMap(({ id }, index) => {
      const place = placeOf('sections', index, id);
      const elements = users.get(id);
      if (elements === undefined) {
        return [
          fault(
            place,
            'no element uses this section',
            'give it to the track it sees, or remove it',
          ),
        ];
      }
      const apart = elements.find((element) => !connected(id, elements, graph).has(element));
      return apart === undefined
        ? []
        : [
            fault(
              place,
              `it sees ${elementPlace(file, apart)}, which doesn't adjoin the rest of its track`,
              'a detector sees one connected stretch: give each stretch a section of its own',
            ),
          ];
    }),
    ...file.elements.flatMap((element, index) =>
      element.kind === 'block'
        ? interrupted(element.detection.map((part) => part.section)).map((id) =>
            fault(
              elementPlace(file, index),
              `section ${id} stands twice in its detection, with other track between`,
              'a detector sees one connected stretch: give each stretch a section of its own',
            ),
          )
        : [],
    ),
  ];
}

/** The elements that can be reached from the first without leaving what the section sees. */
function connected(
  id: string,
  elements: readonly ElementIndex[],
  graph: TrackGraph,
): ReadonlySet<ElementIndex> {
  const reached = new Set<ElementIndex>();
  const waiting = elements.slice(0, 1);
  for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
    if (reached.has(at)) continue;
    reached.add(at);
    const element = graph.elements[at];
    for (const port of element === undefined ? [] : PORTS[element.kind]) {
      const met = graph.mate(at, port);
      const other = met === null ? undefined : graph.elements[met.element];
      if (met === null || element === undefined || other === undefined) continue;
      if (seesPort(id, element, port) && seesPort(id, other, met.port)) waiting.push(met.element);
    }
  }
  return reached;
}

/** Whether the section sees the track at this very port. */
function seesPort(id: string, element: ElementFile, port: string): boolean {
  if (element.kind === 'buffer-stop') return false;
  if (element.kind !== 'block') return element.section === id;
  return element.detection.at(port === 'a' ? 0 : -1)?.section === id;
}

/** Sections that stop and begin again along a block. */
function interrupted(along: readonly (string | null)[]): readonly string[] {
  const begun = new Set<string>();
  const twice = new Set<string>();
  along.forEach((id, part) => {
    if (id === null || along[part - 1] === id) return;
    if (begun.has(id)) twice.add(id);
    begun.add(id);
  });
  return [...twice];
}
