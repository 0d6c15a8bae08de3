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

/** What only blocks have, for everything else. */
const NO_BLOCK = {
  length: mm(0),
  stopMarks: [mm(0), mm(0)],
  fouling: [mm(0), mm(0)],
  permitted: [false, false],
} as const;

/** The section ids that see any part of an element, each once. */
export function sectionIdsOf(file: ElementFile): readonly string[] {
  if (file.kind === 'buffer-stop') return [];
  const all = file.kind === 'block' ? file.detection.map((part) => part.section) : [file.section];
  return [...new Set(all.filter((id) => id !== null))];
}

/** How far from a block's end a vehicle still fouls what is joined there. */
export function foulingAhead(index: number, end: 'a' | 'b', graph: TrackGraph): Millimetres {
  const ahead = graph.mate(index, end);
  const joined = ahead === null ? undefined : graph.elements[ahead.element];
  return ahead === null || joined === undefined ? mm(0) : foulingAtPort(joined, ahead.port);
}

/** Distance from a block's end at which trains stop: the builder's mark, else clear of what fouls ahead. */
export function stopMark(file: BlockFile, end: 'a' | 'b', fouling: Millimetres): Millimetres {
  return (
    file.stopMarks?.[end] ?? mm(Math.min(fouling + STOP_MARGIN, Math.floor(blockLength(file) / 3)))
  );
}

function driveOf(file: ElementFile): DriveInfo | null {
  return 'drive' in file ? { ...file.drive, positions: POSITIONS[file.kind] } : null;
}

/** What only a block has. */
function blockPart(
  file: BlockFile,
  index: number,
  graph: TrackGraph,
): Pick<Element, 'length' | 'stopMarks' | 'fouling' | 'permitted'> {
  const fouling = [foulingAhead(index, 'b', graph), foulingAhead(index, 'a', graph)] as const;
  return {
    length: blockLength(file),
    stopMarks: [stopMark(file, 'b', fouling[0]), stopMark(file, 'a', fouling[1])],
    fouling,
    permitted: PERMITTED[file.directions],
  };
}

/** The file's elements, then one element of kind `polarity` for each reversing section. */
export function compileElements(
  file: LayoutFile,
  graph: TrackGraph,
  sectionByName: ReadonlyMap<string, SectionIndex>,
): readonly Element[] {
  const levelOf = new Map(file.levels.map((level, index) => [level.id, index]));
  const sectionsOf = (element: ElementFile): readonly SectionIndex[] =>
    sectionIdsOf(element).flatMap((id) => sectionByName.get(id) ?? []);

  const track = file.elements.map((element, index): Element => {
    const level = levelOf.get(element.draw?.level ?? '') ?? 0;
    const { length, stopMarks, fouling, permitted } =
      element.kind === 'block' ? blockPart(element, index, graph) : NO_BLOCK;
    // One literal: put together from parts, thousands of elements take several times as long.
    return {
      index,
      id: element.id,
      kind: element.kind,
      file: element,
      reversing: null,
      legs: legsOf(element, file.scaleRatio),
      drive: driveOf(element),
      sections: sectionsOf(element),
      level,
      hidden: file.levels[level]?.hidden ?? false,
      length,
      stopMarks,
      fouling,
      permitted,
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
      ...NO_BLOCK,
    };
  };
  return [...track, ...file.reversingSections.map(polarity)];
}
