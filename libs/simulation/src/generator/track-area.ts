import {
  kmPerH,
  mm,
  ms,
  type BlockFile,
  type ElementFile,
  type ElementId,
  type PermittedDirections,
  type Point,
  type SectionId,
} from '@blockbell/railway/track';
import type { Wiring, WiringList } from './track-wiring.js';

/** Where new elements lie and how they are wired, driven and limited unless they say otherwise. */
export interface AreaOptions extends Wiring {
  readonly level: string;
  /** Highest speed on diverging legs, in km/h of the prototype. */
  readonly divergingLimit?: number;
  /** Highest speed in blocks, in km/h of the prototype. */
  readonly speedLimit?: number;
  /** Whether point motors report their position; default true. */
  readonly feedback?: boolean;
}

export interface BlockOptions {
  readonly from: Point;
  readonly to: Point;
  readonly via?: readonly Point[];
  /** Lengths in mm from `a` to `b`: with a section of its own each, or seen by no detector. */
  readonly pieces: readonly (number | { readonly undetected: number })[];
  readonly directions?: PermittedDirections;
  readonly name?: string;
  readonly gradient?: number;
  /** Where trains stop, in mm before the end ahead; default 100. */
  readonly stopMark?: number;
}

/** Points of the ports; `section` names a section shared with other elements of a throat. */
interface Throat {
  readonly section?: string;
}
export interface TurnoutOptions extends Throat {
  readonly stem: Point;
  readonly straight: Point;
  readonly diverging: Point;
}
export interface ThreeWayOptions extends Throat {
  readonly stem: Point;
  readonly left: Point;
  readonly straight: Point;
  readonly right: Point;
}
export interface CrossingOptions extends Throat {
  readonly a: Point;
  readonly b: Point;
  readonly c: Point;
  readonly d: Point;
}

/** What the builder's own track is made of; lengths of common small-radius turnouts in 1:87, in mm. */
const TURNOUT_LENGTH = 240;
const CURVED_LEG_LENGTH = 245;
const CROSSING_LENGTH = 180;
const FOULING = 60;
const THROW_TIME = 800;
const STOP_MARK = 100;

/** Enters elements of one area; every method returns the area, so that a line of track reads as a chain. */
export class TrackArea {
  readonly #options: AreaOptions;
  readonly #elements: ElementFile[];
  readonly #wiring: WiringList;

  constructor(options: AreaOptions, elements: ElementFile[], wiring: WiringList) {
    this.#options = options;
    this.#elements = elements;
    this.#wiring = wiring;
  }

  /** The same area with some options changed. */
  with(changes: Partial<AreaOptions>): TrackArea {
    return new TrackArea({ ...this.#options, ...changes }, this.#elements, this.#wiring);
  }

  block(id: string, options: BlockOptions): this {
    const directions = options.directions ?? 'both';
    const mark = mm(options.stopMark ?? STOP_MARK);
    const { speedLimit } = this.#options;
    const block: BlockFile = {
      id: id as ElementId,
      kind: 'block',
      ...(options.name === undefined ? {} : { name: options.name }),
      detection: options.pieces.map((piece, position) =>
        typeof piece === 'number'
          ? { section: this.#section(`${id}.${position + 1}`), length: mm(piece) }
          : { section: null, length: mm(piece.undetected) },
      ),
      directions,
      ...(speedLimit === undefined ? {} : { speedLimit: kmPerH(speedLimit) }),
      ...(options.gradient === undefined ? {} : { gradient: options.gradient }),
      stopMarks: {
        ...(directions === 'a-to-b' ? {} : { a: mark }),
        ...(directions === 'b-to-a' ? {} : { b: mark }),
      },
      draw: {
        level: this.#options.level,
        ports: { a: options.from, b: options.to },
        ...(options.via === undefined ? {} : { via: options.via }),
      },
    };
    this.#elements.push(block);
    return this;
  }

  turnout(id: string, { section, ...ports }: TurnoutOptions): this {
    this.#elements.push({
      id: id as ElementId,
      kind: 'turnout',
      lengths: { straight: mm(TURNOUT_LENGTH), diverging: mm(CURVED_LEG_LENGTH) },
      section: this.#section(section ?? id),
      drive: this.#drive(),
      fouling: { straight: mm(FOULING), diverging: mm(FOULING) },
      ...this.#divergingLimit(),
      draw: { level: this.#options.level, ports: { ...ports } },
    });
    return this;
  }

  threeWay(id: string, { section, ...ports }: ThreeWayOptions): this {
    this.#elements.push({
      id: id as ElementId,
      kind: 'three-way',
      lengths: {
        left: mm(CURVED_LEG_LENGTH),
        straight: mm(TURNOUT_LENGTH),
        right: mm(CURVED_LEG_LENGTH),
      },
      section: this.#section(section ?? id),
      drive: this.#drive(),
      fouling: { left: mm(FOULING), straight: mm(FOULING), right: mm(FOULING) },
      ...this.#divergingLimit(),
      draw: { level: this.#options.level, ports: { ...ports } },
    });
    return this;
  }

  crossing(id: string, { section, ...ports }: CrossingOptions): this {
    this.#elements.push({
      id: id as ElementId,
      kind: 'crossing',
      length: mm(CROSSING_LENGTH),
      section: this.#section(section ?? id),
      fouling: mm(FOULING),
      draw: { level: this.#options.level, ports: { ...ports } },
    });
    return this;
  }

  slip(
    id: string,
    kind: 'single-slip' | 'double-slip',
    { section, ...ports }: CrossingOptions,
  ): this {
    const { divergingLimit } = this.#options;
    this.#elements.push({
      id: id as ElementId,
      kind,
      length: mm(TURNOUT_LENGTH),
      section: this.#section(section ?? id),
      drive: this.#drive(),
      fouling: mm(FOULING),
      ...(divergingLimit === undefined ? {} : { slipLimit: kmPerH(divergingLimit) }),
      draw: { level: this.#options.level, ports: { ...ports } },
    });
    return this;
  }

  bufferStop(id: string, at: Point): this {
    this.#elements.push({
      id: id as ElementId,
      kind: 'buffer-stop',
      draw: { level: this.#options.level, ports: { a: at } },
    });
    return this;
  }

  #section(name: string): SectionId {
    return this.#wiring.section(name, this.#options);
  }

  #drive(): { address: number; throwTime: ReturnType<typeof ms>; feedback: boolean } {
    return {
      address: this.#wiring.drive(),
      throwTime: ms(THROW_TIME),
      feedback: this.#options.feedback ?? true,
    };
  }

  #divergingLimit(): { divergingLimit?: ReturnType<typeof kmPerH> } {
    const { divergingLimit } = this.#options;
    return divergingLimit === undefined ? {} : { divergingLimit: kmPerH(divergingLimit) };
  }
}
