import type { ElementId, SectionId } from '../ids.js';
import type { Millimetres, Milliseconds, MillimetresPerSecond } from '../units.js';
import type {
  BusFile,
  DetectorTypeFile,
  ElementFile,
  LayoutFile,
  ReversingSectionFile,
  SectionFile,
  StationFile,
} from './layout-file.js';

/**
 * The layout as the engine uses it: everything computed once from the file, immutable, outside the state,
 * known by the content hash of its file. Elements, sections and routes are numbered; the numbers are indexes into the arrays here.
 */
export type ElementIndex = number;
export type SectionIndex = number;
export type RouteIndex = number;
export type StationIndex = number;

/** A block and a direction along it: `block * 2` towards `b`, `block * 2 + 1` towards `a`, with `block` an element index. */
export type Heading = number;
export const headingOf = (block: ElementIndex, towards: 'a' | 'b'): Heading =>
  block * 2 + (towards === 'b' ? 0 : 1);
export const blockOf = (heading: Heading): ElementIndex => heading >> 1;
export const endAhead = (heading: Heading): 'a' | 'b' => ((heading & 1) === 0 ? 'b' : 'a');
export const opposite = (heading: Heading): Heading => heading ^ 1;

/** A way through an element between two ports. `position` is null where nothing needs setting. */
export interface Leg {
  readonly from: string;
  readonly to: string;
  readonly position: string | null;
  readonly length: Millimetres;
  /** How far beyond `to` a vehicle still fouls this element's other legs; 0 on the stem side and for blocks. */
  readonly foulingBeyondTo: Millimetres;
  readonly foulingBeyondFrom: Millimetres;
  readonly speedLimit: MillimetresPerSecond | null;
}

export interface DriveInfo {
  readonly address: number;
  readonly throwTime: Milliseconds;
  readonly feedback: boolean;
  readonly positions: readonly string[];
}

/** A part of an element, in the order of travel, seen by one detector or none (`section` −1). */
export interface Piece {
  readonly section: SectionIndex | -1;
  readonly length: Millimetres;
}

/** An element or, after them, a reversing section (`kind: 'polarity'`), which is held and set like a turnout. */
export interface Element {
  readonly index: ElementIndex;
  readonly id: ElementId;
  readonly kind: ElementFile['kind'] | 'polarity';
  /** The entry of the file; null for a reversing section. */
  readonly file: ElementFile | null;
  readonly reversing: ReversingSectionFile | null;
  readonly legs: readonly Leg[];
  readonly drive: DriveInfo | null;
  /** All sections that see any part of it. */
  readonly sections: readonly SectionIndex[];
  /** Index of the level it is drawn on, or 0. */
  readonly level: number;
  readonly hidden: boolean;
  /** For a block: its length and where trains stop, measured back from the end ahead, by `heading & 1`. */
  readonly length: Millimetres;
  readonly stopMarks: readonly [Millimetres, Millimetres];
  /** For a block: how far back from the end ahead a vehicle fouls what is joined there, by `heading & 1`. */
  readonly fouling: readonly [Millimetres, Millimetres];
  /** For a block: may a train run towards b, towards a. */
  readonly permitted: readonly [boolean, boolean];
}

export interface Section {
  readonly index: SectionIndex;
  readonly id: SectionId;
  readonly file: SectionFile;
  readonly detector: DetectorTypeFile;
  readonly bus: BusFile;
  readonly district: number;
  /** The elements any part of which it sees. */
  readonly elements: readonly ElementIndex[];
}

/** One element of a way in the order of travel. */
export interface Step {
  readonly element: ElementIndex;
  readonly leg: Leg;
  /** The leg's pieces in the order of travel. */
  readonly pieces: readonly Piece[];
  /** Rail gaps crossed at the entry of this step: the reversing section and the polarity that must be set. */
  readonly gaps: readonly { readonly element: ElementIndex; readonly polarity: string }[];
}

/** What keeps stray vehicles out of a route at one of its turnouts. */
export interface Flank {
  readonly turnout: ElementIndex;
  readonly by:
    | { readonly kind: 'turnout'; readonly element: ElementIndex; readonly position: string }
    | { readonly kind: 'signal'; readonly block: ElementIndex }
    | { readonly kind: 'buffer-stop'; readonly element: ElementIndex }
    | { readonly kind: 'none'; readonly why: string };
}

/** From the end of one block over turnouts and crossings through the whole next block. */
export interface Route {
  readonly index: RouteIndex;
  /** Readable and stable across edits: `from>to` block ids, with the turnouts where two ways exist. */
  readonly id: string;
  readonly from: Heading;
  readonly to: Heading;
  /** The last step is the target block. */
  readonly steps: readonly Step[];
  readonly length: Millimetres;
  readonly flank: readonly Flank[];
  /** Routes that share an element or a detection section with this one, itself left out. */
  readonly conflicts: readonly RouteIndex[];
  /** Lowest limit on the way to the target block. */
  readonly speedLimit: MillimetresPerSecond | null;
}

export interface Station {
  readonly index: StationIndex;
  readonly file: StationFile;
  readonly tracks: readonly {
    readonly name: string;
    readonly platform: boolean;
    readonly blocks: readonly ElementIndex[];
  }[];
}

/** A track of a station that is divided into blocks: one train at a time, unless another may be called on. */
export interface DividedTrack {
  /** Station and track, readable. */
  readonly id: string;
  readonly blocks: readonly ElementIndex[];
  readonly callOn: boolean;
}

export interface Layout {
  readonly file: LayoutFile;
  readonly elements: readonly Element[];
  readonly sections: readonly Section[];
  readonly routes: readonly Route[];
  /** By heading: the routes that start at its end ahead. Empty arrays for what is no block. */
  readonly routesFrom: readonly (readonly RouteIndex[])[];
  /** By heading: the routes that end in its block, running that way. Empty arrays for what is no block. */
  readonly routesInto: readonly (readonly RouteIndex[])[];
  /** By heading: the block itself as a step. Null for what is no block. */
  readonly blockSteps: readonly (Step | null)[];
  /** By heading: what is locked beyond the end of a block for a train let into it. Mostly empty. */
  readonly overlaps: readonly (readonly Step[])[];
  readonly stations: readonly Station[];
  readonly dividedTracks: readonly DividedTrack[];
  /** By element: the divided track it is a block of, −1 for none. */
  readonly dividedTrackOf: readonly number[];
  readonly districts: readonly string[];
  readonly elementByName: ReadonlyMap<string, ElementIndex>;
  readonly sectionByName: ReadonlyMap<string, SectionIndex>;
}
