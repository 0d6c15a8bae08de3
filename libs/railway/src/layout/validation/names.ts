import { checkIdentifiers, checkReference } from '../../faults/identifiers.js';
import { placeOf } from '../../faults/fault.js';
import type { Fault } from '../../faults/fault.js';
import type { ElementFile, LayoutFile } from '../layout-file.js';

/** The place of an element. */
export const elementPlace = (file: LayoutFile, index: number): string =>
  placeOf('elements', index, file.elements[index]?.id ?? '');

/** Ids: well formed, each used once. Elements and reversing sections share their names. */
export const checkNames = (file: LayoutFile): Fault[] => [
  ...checkIdentifiers({ path: 'levels', entries: file.levels }),
  ...checkIdentifiers({ path: 'districts', entries: file.districts }),
  ...checkIdentifiers({ path: 'buses', entries: file.buses }),
  ...checkIdentifiers({ path: 'detectorTypes', entries: file.detectorTypes }),
  ...checkIdentifiers({ path: 'sections', entries: file.sections }),
  ...checkIdentifiers(
    { path: 'elements', entries: file.elements },
    { path: 'reversingSections', entries: file.reversingSections },
  ),
  ...checkIdentifiers({ path: 'stations', entries: file.stations }),
  ...file.stations.flatMap((station, index) =>
    checkIdentifiers({
      path: `${placeOf('stations', index, station.id)} tracks`,
      entries: station.tracks,
    }),
  ),
];

/** References to detector types, buses, districts, sections, levels and elements. Joins are examined apart. */
export function checkReferences(file: LayoutFile): Fault[] {
  const idsOf = (list: readonly { readonly id: string }[]): ReadonlySet<string> =>
    new Set(list.map((it) => it.id));
  const detectors = idsOf(file.detectorTypes);
  const buses = idsOf(file.buses);
  const districts = idsOf(file.districts);
  const sections = idsOf(file.sections);
  const levels = idsOf(file.levels);
  const elements = idsOf(file.elements);

  return [
    ...file.sections.flatMap((section, index) => {
      const place = placeOf('sections', index, section.id);
      return [
        ...checkReference(detectors, section.detector, 'detector type', place),
        ...checkReference(buses, section.bus, 'bus', place),
        ...checkReference(districts, section.district, 'power district', place),
      ];
    }),
    ...file.elements.flatMap((element, index) => {
      const place = elementPlace(file, index);
      return [
        ...sectionsNamedBy(element).flatMap(([id, where]) =>
          checkReference(sections, id, 'section', `${place}${where}`),
        ),
        ...(element.draw === undefined
          ? []
          : checkReference(levels, element.draw.level, 'level', `${place} draw`)),
      ];
    }),
    ...file.reversingSections.flatMap((section, index) =>
      section.elements.flatMap((id) =>
        checkReference(elements, id, 'element', placeOf('reversingSections', index, section.id)),
      ),
    ),
  ];
}

function sectionsNamedBy(element: ElementFile): readonly (readonly [id: string, where: string])[] {
  if (element.kind === 'buffer-stop') return [];
  if (element.kind !== 'block') return element.section === null ? [] : [[element.section, '']];
  return element.detection.flatMap(({ section }, part): [string, string][] =>
    section === null ? [] : [[section, ` detection[${part}]`]],
  );
}
