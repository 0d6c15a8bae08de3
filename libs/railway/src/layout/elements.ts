import { mm } from '../units.js';
import type { Millimetres } from '../units.js';
import { blockLength, foulingAtPort, legsOf, POSITIONS } from './element-legs.js';
import type { BlockFile, ElementFile, LayoutFile, ReversingSectionFile } from './layout-file.js';
import type { DriveInfo, Element, SectionIndex } from './layout.js';
import { POLARITIES } from './reversing.js';
import type { TrackGraph } from './track-graph.js';

/** What a train keeps between its front and the fouling point (or the block's end), unless the builder says more. */
const STOP_MARGIN = 60;

const BOTH_WAYS = [true, true] as const;
const PERMITTED = {
  both: BOTH_WAYS,
  'a-to-b': [true, false],
  'b-to-a': [false, true],
} as const;

/** The section ids that see any part of an element, each once. */
export function sectionIdsOf(file: ElementFile): readonly string[] {
  if (file.kind === 'buffer-stop') return [];
  const all = file.kind === 'block' ? file.detection.map((part) => part.section) : [file.section];
  return [...new Set(all.filter((id) => id !== null))];
}

/** Distance from a block's end at which trains stop: the builder's mark, else clear of what fouls ahead. */
function stopMark(file: BlockFile, end: 'a' | 'b', index: number, graph: TrackGraph): Millimetres {
  const marked = file.stopMarks?.[end];
  if (marked !== undefined) return marked;
  const ahead = graph.mate(index, end);
  const joined = ahead === null ? undefined : graph.elements[ahead.element];
  const fouling = ahead === null || joined === undefined ? 0 : foulingAtPort(joined, ahead.port);
  return mm(Math.min(fouling + STOP_MARGIN, Math.floor(blockLength(file) / 3)));
}

function driveOf(file: ElementFile): DriveInfo | null {
  return 'drive' in file ? { ...file.drive, positions: POSITIONS[file.kind] } : null;
}

/** The file's elements, then one element of kind `polarity` for each reversing section. */
export function compileElements(
  file: LayoutFile,
  graph: TrackGraph,
  sectionByName: ReadonlyMap<string, SectionIndex>,
): readonly Element[] {
  const levelOf = new Map(file.levels.map((level, index) => [level.id, index]));
  const onLevel = (element: ElementFile | undefined): Pick<Element, 'level' | 'hidden'> => {
    const level = levelOf.get(element?.draw?.level ?? '') ?? 0;
    return { level, hidden: file.levels[level]?.hidden ?? false };
  };
  const sectionsOf = (element: ElementFile): readonly SectionIndex[] =>
    sectionIdsOf(element).flatMap((id) => sectionByName.get(id) ?? []);

  const track = file.elements.map((element, index): Element => {
    const block = element.kind === 'block' ? element : null;
    return {
      index,
      id: element.id,
      kind: element.kind,
      file: element,
      reversing: null,
      legs: legsOf(element, file.scaleRatio),
      drive: driveOf(element),
      sections: sectionsOf(element),
      ...onLevel(element),
      length: block === null ? mm(0) : blockLength(block),
      stopMarks:
        block === null
          ? [mm(0), mm(0)]
          : [stopMark(block, 'b', index, graph), stopMark(block, 'a', index, graph)],
      permitted: block === null ? [false, false] : PERMITTED[block.directions],
    };
  });

  const polarity = (reversing: ReversingSectionFile, place: number): Element => {
    const members = reversing.elements.flatMap((id) => {
      const member = track[graph.indexOf.get(id) ?? -1];
      return member === undefined ? [] : [member];
    });
    return {
      index: track.length + place,
      id: reversing.id,
      kind: 'polarity',
      file: null,
      reversing,
      legs: [],
      drive: { ...reversing.drive, positions: POLARITIES },
      sections: [...new Set(members.flatMap((member) => member.sections))],
      level: members[0]?.level ?? 0,
      hidden: members.some((member) => member.hidden),
      length: mm(0),
      stopMarks: [mm(0), mm(0)],
      permitted: [false, false],
    };
  };
  return [...track, ...file.reversingSections.map(polarity)];
}
