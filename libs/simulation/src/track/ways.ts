import type { Element, ElementIndex, Layout, Leg } from '@blockbell/railway/track';

/** A part of a leg in which nothing changes: one section (or none, −1), the same claims throughout. */
export interface TrackPiece {
  /** Measured from the way's entry, mm. */
  readonly from: number;
  readonly to: number;
  readonly section: number;
  /** What a vehicle anywhere in this piece occupies or fouls. */
  readonly claims: readonly Claim[];
}

/**
 * A vehicle's hold on an element: it is on a leg (slot = index of the leg), or so near beyond a port that it fouls
 * other legs (slot = number of legs + number of the port).
 */
export interface Claim {
  readonly element: ElementIndex;
  readonly slot: number;
}

/** A rail gap, and the polarity that must be set where a train bridges it. */
export interface Gap {
  readonly reversing: ElementIndex;
  readonly polarity: string;
}

/** What follows at the end of a way. */
export interface Exit {
  readonly element: ElementIndex;
  /** The ways that begin there; which one is taken depends on the drive. */
  readonly ways: readonly number[];
  readonly gaps: readonly Gap[];
}

/** A leg of an element in one direction. Its opposite is the way whose number differs in the last bit. */
export interface Way {
  readonly index: number;
  readonly element: ElementIndex;
  /** Index into the element's legs, and whether the way runs from the leg's `from` to its `to`. */
  readonly leg: number;
  readonly along: boolean;
  readonly entry: string;
  readonly exit: string;
  readonly position: string | null;
  readonly length: number;
  readonly pieces: readonly TrackPiece[];
  /** Null at a buffer stop or an open end. */
  readonly next: Exit | null;
}

/** The way a train runs that leaves over this way's entry. */
export const oppositeWay = (way: number): number => way ^ 1;

/** A leg's ends and what the drive must be set to, before pieces and exits are known. */
export interface BareWay {
  readonly index: number;
  readonly element: Element;
  readonly leg: number;
  readonly along: boolean;
  readonly entry: string;
  readonly exit: string;
  readonly position: string | null;
  readonly length: number;
  /** How far beyond its exit a vehicle fouls the element's other legs. */
  readonly foulingBeyondExit: number;
}

/** All ways and the ports they begin at: what is needed to walk the track. */
export interface WayGraph {
  readonly ways: readonly BareWay[];
  /** By port (`element.port` with the element's index): the ways that begin there. */
  readonly from: ReadonlyMap<string, readonly number[]>;
  /** By port: the port that meets it. */
  readonly mates: ReadonlyMap<string, PortRef>;
}

export interface PortRef {
  readonly element: ElementIndex;
  readonly port: string;
}

export const portKey = (element: ElementIndex, port: string): string => `${element}.${port}`;

export function buildWayGraph(layout: Layout): WayGraph {
  const ways: BareWay[] = [];
  const from = new Map<string, number[]>();
  const add = (element: Element, leg: number, file: Leg, along: boolean): void => {
    const index = ways.length;
    const entry = along ? file.from : file.to;
    ways.push({
      index,
      element,
      leg,
      along,
      entry,
      exit: along ? file.to : file.from,
      position: file.position,
      length: file.length,
      foulingBeyondExit: along ? file.foulingBeyondTo : file.foulingBeyondFrom,
    });
    const key = portKey(element.index, entry);
    from.set(key, [...(from.get(key) ?? []), index]);
  };
  for (const element of layout.elements) {
    element.legs.forEach((leg, index) => {
      add(element, index, leg, true);
      add(element, index, leg, false);
    });
  }
  return { ways, from, mates: findMates(layout) };
}

/** Reads `element.port` as the file writes it; the port stands after the last dot. */
export function readPort(layout: Layout, text: string): PortRef {
  const dot = text.lastIndexOf('.');
  const element = layout.elementByName.get(text.slice(0, dot));
  if (element === undefined) throw new Error(`the layout was not validated: no port ${text}`);
  return { element, port: text.slice(dot + 1) };
}

function findMates(layout: Layout): ReadonlyMap<string, PortRef> {
  const mates = new Map<string, PortRef>();
  for (const [leftText, rightText] of layout.file.joins) {
    const left = readPort(layout, leftText);
    const right = readPort(layout, rightText);
    mates.set(portKey(left.element, left.port), right);
    mates.set(portKey(right.element, right.port), left);
  }
  return mates;
}
