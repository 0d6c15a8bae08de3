import { mm, ms } from '@blockbell/railway/track';
import type {
  BlockFile,
  BusId,
  DetectorTypeFile,
  DistrictId,
  ElementFile,
  ElementId,
  LayoutFile,
  ReversingSectionFile,
  SectionFile,
  SectionId,
} from '@blockbell/railway/track';

/** Small layouts for tests. Names say what lies where; all sections can tell one decoder. */

export const DETECTOR: DetectorTypeFile = {
  id: 'detector',
  reportsIdentity: true,
  readsAtOnce: 1,
  worstDelay: { occupied: ms(60), free: ms(200), report: ms(150) },
  holdOff: ms(1500),
};

const THROW = { throwTime: ms(600), feedback: true } as const;

const elementId = (id: string): ElementId => id as ElementId;
const sectionId = (id: string): SectionId => id as SectionId;

/** A block of detected lengths named `id/1`, `id/2`, …; a negative length is track that no detector sees. */
export const block = (id: string, lengths: readonly number[]): BlockFile => ({
  id: elementId(id),
  kind: 'block',
  directions: 'both',
  detection: lengths.map((length, index) => ({
    section: length < 0 ? null : sectionId(`${id}-${index + 1}`),
    length: mm(Math.abs(length)),
  })),
  stopMarks: { a: mm(100), b: mm(100) },
});

const turnout = (id: string, address: number, feedback = true): ElementFile => ({
  id: elementId(id),
  kind: 'turnout',
  lengths: { straight: mm(200), diverging: mm(210) },
  section: sectionId(id),
  drive: { address, ...THROW, feedback },
  fouling: { straight: mm(80), diverging: mm(80) },
});

const bufferStop = (id: string): ElementFile => ({ id: elementId(id), kind: 'buffer-stop' });

interface Parts {
  readonly elements: readonly ElementFile[];
  readonly joins: readonly (readonly [string, string])[];
  readonly reversing?: readonly ReversingSectionFile[];
  readonly detector?: Partial<DetectorTypeFile>;
  /** Elements fed by the second district. */
  readonly second?: readonly string[];
}

function layoutOf({
  elements,
  joins,
  reversing = [],
  detector = {},
  second = [],
}: Parts): LayoutFile {
  const sections: SectionFile[] = [];
  for (const element of elements) {
    if (element.kind === 'buffer-stop') continue;
    const ids =
      element.kind === 'block' ? element.detection.map((it) => it.section) : [element.section];
    for (const id of ids) {
      if (id === null) continue;
      sections.push({
        id,
        detector: DETECTOR.id,
        bus: 'bus' as BusId,
        address: sections.length + 1,
        district: (second.includes(element.id) ? 'second' : 'first') as DistrictId,
      });
    }
  }
  return {
    kind: 'blockbell-layout',
    version: 1,
    id: 'test',
    name: 'Test',
    scaleRatio: 87,
    levels: [{ id: 'ground', name: 'Ground', hidden: false }],
    districts: [
      { id: 'first' as DistrictId, name: 'First' },
      { id: 'second' as DistrictId, name: 'Second' },
    ],
    buses: [
      { id: 'bus' as BusId, name: 'Bus', silence: { by: 'heartbeat', noticedWithin: ms(2000) } },
    ],
    detectorTypes: [{ ...DETECTOR, ...detector }],
    sections,
    elements,
    joins,
    reversingSections: reversing,
    stations: [],
  };
}

/**
 * buffer – west – points-w < main / siding > points-e – east – buffer. East is fed by the second district; its middle
 * 300 mm are seen by no detector.
 */
export const passingLoop = (detector: Partial<DetectorTypeFile> = {}): LayoutFile =>
  layoutOf({
    detector,
    second: ['east'],
    elements: [
      bufferStop('end-w'),
      block('west', [700, 1300]),
      turnout('points-w', 1),
      block('main', [400, 1200, 400]),
      block('siding', [1900]),
      turnout('points-e', 2, false),
      block('east', [900, -300, 800]),
      bufferStop('end-e'),
    ],
    joins: [
      ['end-w.a', 'west.a'],
      ['west.b', 'points-w.stem'],
      ['points-w.straight', 'main.a'],
      ['points-w.diverging', 'siding.a'],
      ['main.b', 'points-e.straight'],
      ['siding.b', 'points-e.diverging'],
      ['points-e.stem', 'east.a'],
      ['east.b', 'end-e.a'],
    ],
  });

/** Four blocks in a circle. */
export const circle = (): LayoutFile =>
  layoutOf({
    elements: [
      block('north', [500, 700]),
      block('east', [900]),
      block('south', [300, 300, 300]),
      block('west', [1100]),
    ],
    joins: [
      ['north.b', 'east.a'],
      ['east.b', 'south.a'],
      ['south.b', 'west.a'],
      ['west.b', 'north.a'],
    ],
  });

/** lead – points < loop >: the loop is a reversing section, normal at the straight port, reversed at the diverging one. */
export const reversingLoop = (): LayoutFile =>
  layoutOf({
    second: ['loop'],
    elements: [
      bufferStop('end'),
      block('lead', [1500, 1500]),
      turnout('points', 1),
      block('loop', [1000, 2000, 1000]),
    ],
    joins: [
      ['end.a', 'lead.a'],
      ['lead.b', 'points.stem'],
      ['points.straight', 'loop.a'],
      ['points.diverging', 'loop.b'],
    ],
    reversing: [
      {
        id: elementId('polarity'),
        name: 'Loop',
        elements: [elementId('loop')],
        gaps: [
          { port: 'loop.a', polarity: 'normal' },
          { port: 'loop.b', polarity: 'reversed' },
        ],
        drive: { address: 9, throwTime: ms(100), feedback: true },
      },
    ],
  });

/** Two tracks that cross: west – crossing – east (a–c) and south – crossing – north (b–d). */
export const crossroads = (): LayoutFile =>
  layoutOf({
    elements: [
      block('west', [1500]),
      block('south', [1500]),
      {
        id: elementId('crossing'),
        kind: 'crossing',
        length: mm(150),
        section: sectionId('crossing'),
        fouling: mm(70),
      },
      block('east', [1500]),
      block('north', [1500]),
    ],
    joins: [
      ['west.b', 'crossing.a'],
      ['south.b', 'crossing.b'],
      ['crossing.c', 'east.a'],
      ['crossing.d', 'north.a'],
    ],
  });
