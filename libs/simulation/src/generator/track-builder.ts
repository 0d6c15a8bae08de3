import {
  ms,
  type BusFile,
  type BusId,
  type DetectorTypeFile,
  type DistrictId,
  type ElementFile,
  type ElementId,
  type LayoutFile,
  type LevelFile,
  type ReversingSectionFile,
  type StationFile,
  type StationId,
} from '@blockbell/railway/track';
import { TrackArea, type AreaOptions } from './track-area.js';
import { WiringList } from './track-wiring.js';

/**
 * Builds a layout file piece by piece. Track is entered by where it is drawn: two ports at the same point of
 * the same level are joined; what meets across levels is joined by name. Sections, their inputs and the
 * addresses of drives are numbered in the order of entry.
 */
export class TrackBuilder {
  readonly #head: Pick<LayoutFile, 'id' | 'name' | 'scaleRatio'>;
  readonly #levels: LevelFile[] = [];
  readonly #districts: { id: DistrictId; name: string }[] = [];
  readonly #buses: BusFile[] = [];
  readonly #detectorTypes: DetectorTypeFile[] = [];
  readonly #elements: ElementFile[] = [];
  readonly #joins: [string, string][] = [];
  readonly #reversing: ReversingSectionFile[] = [];
  readonly #stations: StationFile[] = [];
  readonly #wiring = new WiringList();

  constructor(head: Pick<LayoutFile, 'id' | 'name' | 'scaleRatio'>) {
    this.#head = head;
  }

  level(id: string, name: string, hidden: boolean): this {
    this.#levels.push({ id, name, hidden });
    return this;
  }

  district(id: string, name: string): this {
    this.#districts.push({ id: id as DistrictId, name });
    return this;
  }

  /** A feedback bus whose silence is noticed within `noticedWithin` ms. */
  bus(id: string, name: string, by: 'poll' | 'heartbeat', noticedWithin: number): this {
    this.#buses.push({ id: id as BusId, name, silence: { by, noticedWithin: ms(noticedWithin) } });
    return this;
  }

  detectorType(type: DetectorTypeFile): this {
    this.#detectorTypes.push(type);
    return this;
  }

  /** A place to enter elements with the same level, wiring and limits. */
  area(options: AreaOptions): TrackArea {
    return new TrackArea(options, this.#elements, this.#wiring);
  }

  /** Joins two ports, each written `element.port`, that do not meet in the drawing. */
  join(one: string, other: string): this {
    this.#joins.push([one, other]);
    return this;
  }

  /** A reversing section made of `elements`, between a gap where the track outside is normal and one where it is reversed. */
  reversingSection(
    id: string,
    name: string,
    elements: readonly string[],
    gaps: { readonly normal: string; readonly reversed: string },
  ): this {
    this.#reversing.push({
      id: id as ElementId,
      name,
      elements: elements as readonly ElementId[],
      gaps: [
        { port: gaps.normal, polarity: 'normal' },
        { port: gaps.reversed, polarity: 'reversed' },
      ],
      drive: { address: this.#wiring.drive(), throwTime: ms(200), feedback: true },
    });
    return this;
  }

  /** A station whose tracks are one block each, named after the block unless `name` says otherwise. */
  station(
    id: string,
    name: string,
    kind: StationFile['kind'],
    chainage: number,
    tracks: readonly {
      readonly block: string;
      readonly name: string;
      readonly platform: boolean;
    }[],
  ): this {
    this.#stations.push({
      id: id as StationId,
      name,
      kind,
      chainage,
      tracks: tracks.map((track) => ({
        id: track.block,
        name: track.name,
        blocks: [track.block as ElementId],
        platform: track.platform,
      })),
    });
    return this;
  }

  build(): LayoutFile {
    return {
      kind: 'blockbell-layout',
      version: 1,
      ...this.#head,
      levels: this.#levels,
      districts: this.#districts,
      buses: this.#buses,
      detectorTypes: this.#detectorTypes,
      sections: this.#wiring.sections,
      elements: this.#elements,
      joins: [...joinsByPlace(this.#elements), ...this.#joins],
      reversingSections: this.#reversing,
      stations: this.#stations,
    };
  }
}

/** Ports drawn at the same point of the same level, paired. Three at one point is a mistake in the program. */
function joinsByPlace(elements: readonly ElementFile[]): [string, string][] {
  const waiting = new Map<string, string>();
  const met = new Set<string>();
  const joins: [string, string][] = [];
  for (const { id, draw } of elements) {
    for (const [port, [x, y]] of Object.entries(draw?.ports ?? {})) {
      const place = `${draw?.level ?? ''} ${x} ${y}`;
      if (met.has(place))
        throw new Error(`three ports meet at ${place}, the third is ${id}.${port}`);
      const first = waiting.get(place);
      if (first === undefined) {
        waiting.set(place, `${id}.${port}`);
      } else {
        joins.push([first, `${id}.${port}`]);
        met.add(place);
      }
    }
  }
  return joins;
}
