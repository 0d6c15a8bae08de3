import { compileLayout } from '@blockbell/railway';
import type { ElementFile, Layout, LayoutFile } from '@blockbell/railway';

/** Branded ids and units are plain values in the files; a test writes them as the files do. */
const layoutFile = (file: unknown): LayoutFile => file as LayoutFile;

const drive = { address: 1, throwTime: 800, feedback: true };
const fouling = { straight: 90, diverging: 100 };

type Drawn = ElementFile['draw'];

/**
 * A single line W into a station with two tracks, by a turnout T, and a hidden track H joined to W on another level
 * that is drawn over the first. W bends once and has two sections of 500 mm and 1500 mm.
 */
export function smallLayout(draw = true): Layout {
  const drawn = (level: string, ports: object, via?: object): { draw?: Drawn } =>
    draw ? { draw: { level, ports, ...(via ? { via } : {}) } as Drawn } : {};
  return compileLayout(
    layoutFile({
      kind: 'blockbell-layout',
      version: 1,
      id: 'small',
      name: 'Small',
      scaleRatio: 87,
      levels: [
        { id: 'open', name: 'Open', hidden: false },
        { id: 'under', name: 'Under', hidden: true },
      ],
      districts: [{ id: 'd', name: 'd' }],
      buses: [{ id: 'u', name: 'u', silence: { by: 'poll', noticedWithin: 1000 } }],
      detectorTypes: [
        {
          id: 'k',
          reportsIdentity: true,
          readsAtOnce: 1,
          worstDelay: { occupied: 100, free: 100, report: 100 },
          holdOff: 500,
        },
      ],
      sections: ['w1', 'w2', 't', 'a', 'b', 'h'].map((id, address) => ({
        id,
        detector: 'k',
        bus: 'u',
        address,
        district: 'd',
      })),
      elements: [
        {
          id: 'W',
          kind: 'block',
          directions: 'both',
          detection: [
            { section: 'w1', length: 500 },
            { section: 'w2', length: 1500 },
          ],
          ...drawn('open', { a: [0, 10], b: [30, 0] }, [[0, 0]]),
        },
        {
          id: 'T',
          kind: 'turnout',
          lengths: { straight: 200, diverging: 200 },
          section: 't',
          drive,
          fouling,
          ...drawn('open', { stem: [30, 0], straight: [40, 0], diverging: [40, 4] }),
        },
        {
          id: 'A',
          kind: 'block',
          name: 'Track 1',
          directions: 'both',
          detection: [{ section: 'a', length: 1000 }],
          ...drawn('open', { a: [40, 0], b: [80, 0] }),
        },
        {
          id: 'B',
          kind: 'block',
          name: 'Track 2',
          directions: 'both',
          detection: [{ section: 'b', length: 1000 }],
          ...drawn('open', { a: [40, 4], b: [80, 4] }),
        },
        {
          id: 'H',
          kind: 'block',
          directions: 'both',
          detection: [{ section: 'h', length: 1000 }],
          ...drawn('under', { a: [0, 5], b: [40, 5] }),
        },
      ],
      joins: [
        ['W.b', 'T.stem'],
        ['T.straight', 'A.a'],
        ['T.diverging', 'B.a'],
        ['W.a', 'H.a'],
      ],
      reversingSections: [],
      stations: [
        {
          id: 'S',
          name: 'Smallham',
          kind: 'station',
          chainage: 3,
          tracks: [
            { id: 't1', name: '1', blocks: ['A'], platform: true },
            { id: 't2', name: '2', blocks: ['B'], platform: true },
          ],
        },
      ],
    }),
  );
}

export const elementOf = (layout: Layout, id: string): number => layout.elementByName.get(id) ?? -1;
