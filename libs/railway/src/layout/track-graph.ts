import { PORTS } from './element-legs.js';
import type { ElementFile, LayoutFile } from './layout-file.js';
import type { ElementIndex } from './layout.js';

/** One end of an element. */
export interface Port {
  readonly element: ElementIndex;
  readonly port: string;
}

/** Which ports meet. Built tolerantly, so that a faulty file can be examined: what it doesn't know it leaves out. */
export interface TrackGraph {
  readonly elements: readonly ElementFile[];
  readonly indexOf: ReadonlyMap<string, ElementIndex>;
  /** The port that meets this one; null when none does. */
  mate(element: ElementIndex, port: string): Port | null;
  /** The pairs that meet, by their place in the file; null for a pair that was left out. */
  readonly joins: readonly (readonly [Port, Port] | null)[];
}

/** Splits `element.port` at its last dot (an id may have dots, a port has none); null without a dot. */
export function splitPort(text: string): { element: string; port: string } | null {
  const dot = text.lastIndexOf('.');
  return dot <= 0 ? null : { element: text.slice(0, dot), port: text.slice(dot + 1) };
}

/** A port as a key for maps. */
export const portKey = (element: ElementIndex, port: string): string => `${element}.${port}`;

/** Finds the port a text names; null when the element or its port is unknown. */
export function findPort(
  elements: readonly ElementFile[],
  indexOf: ReadonlyMap<string, ElementIndex>,
  text: string,
): Port | null {
  const parts = splitPort(text);
  const element = parts === null ? undefined : indexOf.get(parts.element);
  if (parts === null || element === undefined) return null;
  const kind = elements[element]?.kind;
  return kind !== undefined && PORTS[kind].includes(parts.port)
    ? { element, port: parts.port }
    : null;
}

/** Reads elements and joins. Of two elements with one id, and of two joins at one port, the first counts. */
export function buildTrackGraph(file: LayoutFile): TrackGraph {
  const indexOf = new Map<string, ElementIndex>();
  file.elements.forEach((element, index) => {
    if (!indexOf.has(element.id)) indexOf.set(element.id, index);
  });

  const mates = new Map<string, Port>();
  const joins = file.joins.map(([leftText, rightText]): readonly [Port, Port] | null => {
    const left = findPort(file.elements, indexOf, leftText);
    const right = findPort(file.elements, indexOf, rightText);
    if (left === null || right === null) return null;
    const leftKey = portKey(left.element, left.port);
    const rightKey = portKey(right.element, right.port);
    if (leftKey === rightKey || mates.has(leftKey) || mates.has(rightKey)) return null;
    mates.set(leftKey, right);
    mates.set(rightKey, left);
    return [left, right];
  });

  return {
    elements: file.elements,
    indexOf,
    mate: (element, port) => mates.get(portKey(element, port)) ?? null,
    joins,
  };
}
