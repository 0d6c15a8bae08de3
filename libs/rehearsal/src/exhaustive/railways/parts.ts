import type {
  BlockFile,
  BufferStopFile,
  CallFile,
  CrossingFile,
  ElementFile,
  LayoutFile,
  LocomotiveFile,
  ServiceFile,
  SlipFile,
  StationFile,
  StockFile,
  TimetableFile,
  TrainFile,
  TurnoutFile,
} from '@blockbell/railway';
import { mm, mmPerS, mmPerS2, ms } from '@blockbell/railway';
import type { Scenario } from '../scenario.js';

/** Parts from which the small railways are put together: ordinary files, as short as files of a railway can be. */

/** A block with a section for each length, mm from `a` to `b`: `A-1`, `A-2` and so on. */
export const block = (
  id: string,
  lengths: readonly number[],
  more: Partial<BlockFile> = {},
): BlockFile => ({
  id: id as BlockFile['id'],
  kind: 'block',
  detection: lengths.map((length, at) => ({
    section: `${id}-${at + 1}` as LayoutFile['sections'][number]['id'],
    length: mm(length),
  })),
  directions: 'both',
  ...more,
});

export const buffer = (id: string): BufferStopFile => ({
  id: id as BufferStopFile['id'],
  kind: 'buffer-stop',
});

const sectionOf = (id: string): TurnoutFile['section'] => `${id}-s` as TurnoutFile['section'];
/** Addresses are dealt out when the layout is put together. */
const drive = { address: 0, throwTime: ms(600), feedback: true };

export const turnout = (id: string): TurnoutFile => ({
  id: id as TurnoutFile['id'],
  kind: 'turnout',
  lengths: { straight: mm(200), diverging: mm(200) },
  section: sectionOf(id),
  drive,
  fouling: { straight: mm(60), diverging: mm(60) },
});

export const crossing = (id: string): CrossingFile => ({
  id: id as CrossingFile['id'],
  kind: 'crossing',
  length: mm(200),
  section: sectionOf(id),
  fouling: mm(60),
});

export const doubleSlip = (id: string): SlipFile => ({
  id: id as SlipFile['id'],
  kind: 'double-slip',
  length: mm(200),
  section: sectionOf(id),
  drive,
  fouling: mm(60),
});

/** A station with one track for each block. */
export const station = (id: string, chainage: number, ...blocks: string[]): StationFile => ({
  id: id as StationFile['id'],
  name: id,
  kind: 'station',
  chainage,
  tracks: blocks.map((it) => ({
    id: it,
    name: it,
    blocks: [it as ElementFile['id']],
    platform: true,
  })),
});

/** What a small railway is put together from. */
interface SmallParts {
  readonly name: string;
  /** One sentence. */
  readonly about: string;
  readonly trains: readonly SmallTrain[];
  readonly elements: readonly ElementFile[];
  /** Pairs of ports with a space between. */
  readonly joins: readonly string[];
  readonly stations: readonly StationFile[];
  readonly reversingSections?: LayoutFile['reversingSections'];
}

export const smallRailway = (parts: SmallParts): Scenario => ({
  name: parts.name,
  about: parts.about,
  layout: layoutOf(parts),
  stock: stockOf(parts.name, parts.trains),
  timetable: timetableOf(parts.name, parts.trains),
});

/** A layout of 1:87 with one district and one bus. */
function layoutOf({
  name: id,
  elements,
  joins,
  stations,
  reversingSections = [],
}: SmallParts): LayoutFile {
  const sections = elements.flatMap((element) => {
    if (element.kind === 'buffer-stop') return [];
    return element.kind === 'block' ? element.detection.map((it) => it.section) : [element.section];
  });
  return {
    kind: 'blockbell-layout',
    version: 1,
    id,
    name: id,
    scaleRatio: 87,
    levels: [{ id: 'ground', name: 'Ground', hidden: false }],
    districts: [{ id: 'all' as LayoutFile['districts'][number]['id'], name: 'all' }],
    buses: [
      {
        id: 'bus' as LayoutFile['buses'][number]['id'],
        name: 'bus',
        silence: { by: 'poll', noticedWithin: ms(1000) },
      },
    ],
    detectorTypes: [
      {
        id: 'detector',
        reportsIdentity: true,
        readsAtOnce: 4,
        worstDelay: { occupied: ms(50), free: ms(100), report: ms(200) },
        holdOff: ms(400),
      },
    ],
    sections: sections.flatMap((section, at) =>
      section === null
        ? []
        : [
            {
              id: section,
              detector: 'detector',
              bus: 'bus' as LayoutFile['buses'][number]['id'],
              address: at + 1,
              district: 'all' as LayoutFile['districts'][number]['id'],
            },
          ],
    ),
    elements: elements.map((element, at) =>
      'drive' in element ? { ...element, drive: { ...element.drive, address: at + 1 } } : element,
    ),
    joins: joins.map((pair) => {
      const [left = '', right = ''] = pair.split(' ');
      return [left, right];
    }),
    reversingSections: reversingSections.map((it) => ({
      ...it,
      drive: { ...drive, address: elements.length + 1 },
    })),
    stations,
  };
}

/** A gapped stretch whose polarity is switched; its drive is put in with the layout. */
export const reversing = (
  id: string,
  elements: readonly string[],
  gaps: LayoutFile['reversingSections'][number]['gaps'],
): LayoutFile['reversingSections'][number] => ({
  id: id as ElementFile['id'],
  name: id,
  elements: elements as readonly ElementFile['id'][],
  gaps,
  drive,
});

/** A locomotive of 180 mm, alone: a train. `answers`: whether its decoder does. */
interface SmallTrain {
  readonly id: string;
  readonly answers: boolean;
  readonly canReverse?: boolean;
  /** Block and the end its front looks to: `A>b`. */
  readonly at: string;
  /** Services one after the other, each a list of calls: `station` or `station/track`. */
  readonly services: readonly (readonly string[])[];
}

/** Slow and quick to stop: a session on a few metres of track takes few steps. */
const locomotive = ({ id, answers }: SmallTrain, at: number): LocomotiveFile => {
  const table = [
    { step: 1, speed: mmPerS(2) },
    { step: 126, speed: mmPerS(252) },
  ];
  return {
    id: `L${id}` as LocomotiveFile['id'],
    name: id,
    address: { kind: 'short', number: at + 3 },
    length: mm(180),
    topSpeed: mmPerS(150),
    speedTable: { forward: table, reverse: table },
    acceleration: mmPerS2(300),
    braking: mmPerS2(300),
    spread: { speed: 4, braking: 6 },
    answers,
    runOn: mm(0),
  };
};

const trainOf = ({ id, canReverse = false }: SmallTrain, at: number): TrainFile => ({
  id: id as TrainFile['id'],
  label: id,
  name: id,
  class: 'passenger',
  priority: 5 - at,
  vehicles: [{ locomotive: `L${id}` as LocomotiveFile['id'], facing: 'forward' }],
  canReverse,
});

const stockOf = (id: string, trains: readonly SmallTrain[]): StockFile => ({
  kind: 'blockbell-stock',
  version: 1,
  id,
  name: id,
  locomotives: trains.map(locomotive),
  cars: [],
  trains: trains.map(trainOf),
});

/** Every service is due to leave at once, so that trains go as soon as the way is free. */
function timetableOf(id: string, trains: readonly SmallTrain[]): TimetableFile {
  const name = (train: SmallTrain, at: number) => `${train.id}${at + 1}` as ServiceFile['id'];
  return {
    kind: 'blockbell-timetable',
    version: 1,
    id,
    name: id,
    layout: id,
    stock: id,
    day: 'any',
    clock: { start: '09:00', end: '12:00', ratio: 60 },
    services: trains.flatMap((train) =>
      train.services.map((calls, at) => ({
        id: name(train, at),
        name: name(train, at),
        calls: calls.map((text, place) => callOf(text, at * 20 + place * 10, place, calls.length)),
      })),
    ),
    connections: [],
    workings: trains
      .filter(({ services }) => services.length > 0)
      .map((train) => ({
        id: `work-${train.id}` as TimetableFile['workings'][number]['id'],
        train: train.id as TrainFile['id'],
        services: train.services.map((_, at) => name(train, at)),
      })),
    storedPlaces: trains.map((train) => {
      const [place = '', towards] = train.at.split('>');
      return {
        train: train.id as TrainFile['id'],
        block: place as ElementFile['id'],
        towards: towards === 'a' ? 'a' : 'b',
      };
    }),
  };
}

function callOf(text: string, minutes: number, place: number, calls: number): CallFile {
  const [at = '', track] = text.split('/');
  const hour = 9 + Math.floor(minutes / 60);
  const time = `${String(hour).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
  return {
    station: at as CallFile['station'],
    ...(place === 0 ? {} : { arrive: time }),
    ...(place === calls - 1 ? {} : { depart: time }),
    ...(track === undefined ? {} : { tracks: [track] }),
    dwell: { fast: 0, real: 0 },
  };
}
