import type { ElementId } from '../ids.js';
import type {
  BlockFile,
  BufferStopFile,
  CrossingFile,
  DetectedLength,
  ElementFile,
  LayoutFile,
  ReversingSectionFile,
  SectionFile,
  SlipFile,
  StationFile,
  ThreeWayFile,
  TurnoutFile,
} from '../layout/layout-file.js';
import { kmPerH, mm, ms } from '../units.js';
import type { Millimetres } from '../units.js';

/** Parts from which tests put small layouts together. Every element gets a section `s-` and its id, unless told. */
const sectionId = (id: string): SectionFile['id'] => `s-${id}` as SectionFile['id'];
const elementId = (id: string): ElementId => id as ElementId;

let lastAddress = 0;
const drive = (feedback = true) => ({
  address: ++lastAddress,
  throwTime: ms(800),
  feedback,
});

export const block = (id: string, length = 1000, more: Partial<BlockFile> = {}): BlockFile => ({
  id: elementId(id),
  kind: 'block',
  detection: [{ section: sectionId(id), length: mm(length) }],
  directions: 'both',
  ...more,
});

/** Detected lengths from pairs of section id and millimetres. */
export const detection = (
  ...parts: readonly (readonly [string | null, number])[]
): DetectedLength[] =>
  parts.map(([section, length]) => ({
    section: section as DetectedLength['section'],
    length: mm(length),
  }));

export const turnout = (id: string, more: Partial<TurnoutFile> = {}): TurnoutFile => ({
  id: elementId(id),
  kind: 'turnout',
  lengths: { straight: mm(230), diverging: mm(240) },
  section: sectionId(id),
  drive: drive(),
  fouling: { straight: mm(90), diverging: mm(100) },
  divergingLimit: kmPerH(40),
  ...more,
});

export const threeWay = (id: string, more: Partial<ThreeWayFile> = {}): ThreeWayFile => ({
  id: elementId(id),
  kind: 'three-way',
  lengths: { left: mm(260), straight: mm(250), right: mm(260) },
  section: sectionId(id),
  drive: drive(),
  fouling: { left: mm(110), straight: mm(120), right: mm(110) },
  ...more,
});

export const crossing = (id: string, more: Partial<CrossingFile> = {}): CrossingFile => ({
  id: elementId(id),
  kind: 'crossing',
  length: mm(200),
  section: sectionId(id),
  fouling: mm(70),
  ...more,
});

export const slip = (
  id: string,
  kind: 'single-slip' | 'double-slip',
  more: Partial<SlipFile> = {},
): SlipFile => ({
  id: elementId(id),
  kind,
  length: mm(220),
  section: sectionId(id),
  drive: drive(),
  fouling: mm(80),
  slipLimit: kmPerH(30),
  ...more,
});

export const bufferStop = (id: string): BufferStopFile => ({
  id: elementId(id),
  kind: 'buffer-stop',
});

export const station = (id: string, chainage: number, ...tracks: string[][]): StationFile => ({
  id: id as StationFile['id'],
  name: `Station ${id}`,
  kind: 'station',
  chainage,
  tracks: tracks.map((blocks, index) => ({
    id: `t${index + 1}`,
    name: String(index + 1),
    blocks: blocks.map(elementId),
    platform: true,
  })),
});

export const reversing = (
  id: string,
  elements: readonly string[],
  gaps: ReversingSectionFile['gaps'],
): ReversingSectionFile => ({
  id: elementId(id),
  name: `Reversing section ${id}`,
  elements: elements.map(elementId),
  gaps,
  drive: drive(),
});

/** A layout of 1:87 with one detector type, one bus, one district, and a section for every id the elements use. */
export function layoutOf(
  elements: readonly ElementFile[],
  joins: readonly string[],
  more: Partial<LayoutFile> = {},
): LayoutFile {
  const used = elements.flatMap((element) => {
    if (element.kind === 'buffer-stop') return [];
    return element.kind === 'block'
      ? element.detection.map((part) => part.section)
      : [element.section];
  });
  const sections = [...new Set(used.filter((id) => id !== null))];
  return {
    kind: 'blockbell-layout',
    version: 1,
    id: 'test-layout',
    name: 'Test layout',
    scaleRatio: 87,
    levels: [{ id: 'ground', name: 'Ground', hidden: false }],
    districts: [{ id: 'd1' as SectionFile['district'], name: 'District 1' }],
    buses: [
      {
        id: 'bus1' as SectionFile['bus'],
        name: 'Bus 1',
        silence: { by: 'poll', noticedWithin: ms(1000) },
      },
    ],
    detectorTypes: [
      {
        id: 'reader',
        reportsIdentity: true,
        readsAtOnce: 4,
        worstDelay: { occupied: ms(50), free: ms(100), report: ms(200) },
        holdOff: ms(400),
      },
    ],
    sections: sections.map((id, index) => ({
      id,
      detector: 'reader',
      bus: 'bus1' as SectionFile['bus'],
      address: index + 1,
      district: 'd1' as SectionFile['district'],
    })),
    elements,
    joins: joins.map((pair) => {
      const [left = '', right = ''] = pair.split(' ');
      return [left, right];
    }),
    reversingSections: [],
    stations: [],
    ...more,
  };
}

/**
 * A passing loop on a single line between two buffer stops:
 *
 *     WB – W – TW ═ M / S ═ TE – E – EB
 */
export const passingLoop = (more: Partial<LayoutFile> = {}, trackLength = 1200): LayoutFile =>
  layoutOf(
    [
      bufferStop('WB'),
      block('W', 1500),
      turnout('TW'),
      block('M', trackLength),
      block('S', trackLength),
      turnout('TE'),
      block('E', 1500),
      bufferStop('EB'),
    ],
    [
      'WB.a W.a',
      'W.b TW.stem',
      'TW.straight M.a',
      'TW.diverging S.a',
      'M.b TE.straight',
      'S.b TE.diverging',
      'TE.stem E.b',
      'E.a EB.a',
    ],
    {
      stations: [
        station('West', 0, ['W']),
        station('Loop', 2, ['M'], ['S']),
        station('East', 4, ['E']),
      ],
      ...more,
    },
  );

/** A balloon loop: the line ends in a turnout whose legs are the two ends of one block. */
export const balloonLoop = (loopLength: Millimetres = mm(2500)): LayoutFile =>
  layoutOf(
    [bufferStop('B'), block('A', 1500), turnout('T'), block('L', loopLength)],
    ['B.a A.a', 'A.b T.stem', 'T.straight L.a', 'T.diverging L.b'],
    {
      reversingSections: [
        reversing(
          'R',
          ['L'],
          [
            { port: 'L.a', polarity: 'normal' },
            { port: 'L.b', polarity: 'reversed' },
          ],
        ),
      ],
    },
  );
