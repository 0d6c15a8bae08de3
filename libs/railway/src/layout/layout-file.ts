import type { BusId, DistrictId, ElementId, SectionId, StationId } from '../ids.js';
import type { KilometresPerHour, Millimetres, Milliseconds } from '../units.js';

/** A point of the drawing, in drawing units; parallel tracks lie about 20 units apart, a label is about 12 high. */
export type Point = readonly [x: number, y: number];

/** Where an element is drawn: which level, where each port lies, and bends between `a` and `b` of a block. */
export interface Drawing {
  readonly level: string;
  readonly ports: Readonly<Record<string, Point>>;
  readonly via?: readonly Point[];
}

/** The part of a block that one detector sees; `section: null` is track that no detector sees. */
export interface DetectedLength {
  readonly section: SectionId | null;
  readonly length: Millimetres;
}

/** How a point motor is driven. Without feedback a position is only presumed. */
export interface Drive {
  readonly address: number;
  /** Longest time from the command to the proven (or presumed) position. */
  readonly throwTime: Milliseconds;
  readonly feedback: boolean;
}

interface ElementBase {
  readonly id: ElementId;
  readonly draw?: Drawing;
}

export type PermittedDirections = 'both' | 'a-to-b' | 'b-to-a';

/** Plain track, ends `a` and `b`; held by at most one train. */
export interface BlockFile extends ElementBase {
  readonly kind: 'block';
  readonly name?: string;
  /** In order from `a` to `b`; the block's length is their sum. */
  readonly detection: readonly DetectedLength[];
  readonly directions: PermittedDirections;
  readonly speedLimit?: KilometresPerHour;
  /** Rise from `a` to `b`, in permille; falls are negative. */
  readonly gradient?: number;
  readonly electrified?: boolean;
  /** Distance from the end ahead at which a train stops, for trains towards `a` and towards `b`. */
  readonly stopMarks?: { readonly a?: Millimetres; readonly b?: Millimetres };
  /** How far beyond that end track must be free and locked for a train that is let in towards it; absent: not at all. */
  readonly overlap?: { readonly a?: Millimetres; readonly b?: Millimetres };
}

/** Stem to straight or diverging. */
export interface TurnoutFile extends ElementBase {
  readonly kind: 'turnout';
  readonly lengths: { readonly straight: Millimetres; readonly diverging: Millimetres };
  readonly section: SectionId | null;
  readonly drive: Drive;
  /** How far beyond the leg's port a vehicle still fouls the other leg. */
  readonly fouling: { readonly straight: Millimetres; readonly diverging: Millimetres };
  readonly divergingLimit?: KilometresPerHour;
}

/** Stem to left, straight or right. */
export interface ThreeWayFile extends ElementBase {
  readonly kind: 'three-way';
  readonly lengths: {
    readonly left: Millimetres;
    readonly straight: Millimetres;
    readonly right: Millimetres;
  };
  readonly section: SectionId | null;
  readonly drive: Drive;
  readonly fouling: {
    readonly left: Millimetres;
    readonly straight: Millimetres;
    readonly right: Millimetres;
  };
  readonly divergingLimit?: KilometresPerHour;
}

/**
 * Two tracks that cross on the level: `a`–`c` and `b`–`d`, with `a` and `b` on one side. A slip adds curves:
 * the single slip `a`–`d`, the double slip `a`–`d` and `b`–`c`. Its drive has the positions `cross` and `slip`.
 */
export interface CrossingFile extends ElementBase {
  readonly kind: 'crossing';
  readonly length: Millimetres;
  readonly section: SectionId | null;
  /** How far beyond any port a vehicle still fouls the other track. */
  readonly fouling: Millimetres;
}

export interface SlipFile extends ElementBase {
  readonly kind: 'single-slip' | 'double-slip';
  readonly length: Millimetres;
  readonly section: SectionId | null;
  readonly drive: Drive;
  readonly fouling: Millimetres;
  readonly slipLimit?: KilometresPerHour;
}

/** The end of a track; its one port is `a`. */
export interface BufferStopFile extends ElementBase {
  readonly kind: 'buffer-stop';
}

export type ElementFile =
  BlockFile | TurnoutFile | ThreeWayFile | CrossingFile | SlipFile | BufferStopFile;
export type ElementKind = ElementFile['kind'];

/** What a make of detector can do; many sections share one. */
export interface DetectorTypeFile {
  readonly id: string;
  /** Whether it can hear decoders at all. */
  readonly reportsIdentity: boolean;
  /** How many decoders it can tell apart in one section at once; more are occupied but unreadable. */
  readonly readsAtOnce: number;
  /** Whether it tells which way round a locomotive stands that answers in a block. */
  readonly reportsOrientation?: boolean;
  /** Longest time from the fact on the track to the message. */
  readonly worstDelay: {
    readonly occupied: Milliseconds;
    readonly free: Milliseconds;
    readonly report: Milliseconds;
  };
  /** How long a section must read free before it counts as free (dirty track). */
  readonly holdOff: Milliseconds;
}

export interface SectionFile {
  readonly id: SectionId;
  readonly detector: string;
  readonly bus: BusId;
  readonly address: number;
  readonly district: DistrictId;
}

/** A feedback bus and how its silence is noticed. */
export interface BusFile {
  readonly id: BusId;
  readonly name: string;
  readonly silence: {
    readonly by: 'poll' | 'heartbeat';
    readonly noticedWithin: Milliseconds;
  };
}

/** A stretch whose polarity is switched as one: a loop, a wye leg, a return crossover. */
export interface ReversingSectionFile {
  readonly id: ElementId;
  readonly name: string;
  readonly elements: readonly ElementId[];
  /** The rail gaps around it: which polarity fits the track outside each. */
  readonly gaps: readonly { readonly port: string; readonly polarity: 'normal' | 'reversed' }[];
  readonly drive: Drive;
}

/** A track of a station or yard: one block, or the blocks (slots) in order along it. */
export interface StationTrackFile {
  readonly id: string;
  readonly name: string;
  readonly blocks: readonly ElementId[];
  readonly platform: boolean;
  /**
   * Of a station's track that is divided into blocks: whether a second train may be called on into a free block while
   * another stands in the track. Left out: one train at a time. The slots of a staging yard take one train each and
   * need no such leave.
   */
  readonly callOn?: boolean;
}

export interface StationFile {
  readonly id: StationId;
  readonly name: string;
  readonly kind: 'station' | 'junction' | 'staging-yard';
  /** Where it stands on the time–distance graph's axis, in prototype-like kilometres. */
  readonly chainage: number;
  readonly tracks: readonly StationTrackFile[];
}

export interface LevelFile {
  readonly id: string;
  readonly name: string;
  readonly hidden: boolean;
}

/** The layout as its builder describes it; everything else about track is computed. */
export interface LayoutFile {
  readonly kind: 'blockbell-layout';
  readonly version: 1;
  readonly id: string;
  readonly name: string;
  readonly scaleRatio: number;
  readonly levels: readonly LevelFile[];
  readonly districts: readonly { readonly id: DistrictId; readonly name: string }[];
  readonly buses: readonly BusFile[];
  readonly detectorTypes: readonly DetectorTypeFile[];
  readonly sections: readonly SectionFile[];
  readonly elements: readonly ElementFile[];
  /** Pairs of ports that meet, each written `element.port`. */
  readonly joins: readonly (readonly [string, string])[];
  readonly reversingSections: readonly ReversingSectionFile[];
  readonly stations: readonly StationFile[];
}
