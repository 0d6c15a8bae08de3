import type { Element, Layout } from '@blockbell/railway';
import { pointAt } from './line.js';
import type { Line, Point } from './line.js';

/** Ports nearer than this lie on one another, in the board's units. */
const TOUCHING = 0.05;
/** Wider gaps are not bridged by a line but get the same letter at both ends. */
const BRIDGED = 4;

/** Two joined ports that are drawn apart: on two levels, or at the two edges of the drawing. */
export interface BrokenLink {
  readonly from: Point;
  readonly to: Point;
  /** Stands at both ends; null where a line bridges the gap. */
  readonly letter: string | null;
}

type PortAt = (element: Element, port: string) => Point | null;
type Way = (element: number, from: string, to: string) => Line | null;

/** Joins drawn apart, and the direction in which the track joined to a port comes to it. */
export function findLinks(
  layout: Layout,
  portAt: PortAt,
  way: Way,
): { links: readonly BrokenLink[]; angleAt: (port: string) => number } {
  const links: BrokenLink[] = [];
  const joined = new Map<string, string>();
  let letters = 0;
  for (const [one, other] of layout.file.joins) {
    joined.set(one, other).set(other, one);
    const from = pointOf(layout, one, portAt);
    const to = pointOf(layout, other, portAt);
    if (!from || !to) continue;
    const apart = Math.hypot(to[0] - from[0], to[1] - from[1]);
    if (apart <= TOUCHING) continue;
    links.push({ from, to, letter: apart > BRIDGED ? letterOf(letters++) : null });
  }
  const angleAt = (port: string): number => {
    const found = elementOf(layout, joined.get(port) ?? '');
    const leg = found?.element.legs.find(
      ({ from, to }) => from === found.port || to === found.port,
    );
    if (!found || !leg) return 0;
    const line = way(found.element.index, leg.from === found.port ? leg.to : leg.from, found.port);
    return line ? pointAt(line, 1).angle : 0;
  };
  return { links, angleAt };
}

function elementOf(layout: Layout, written: string): { element: Element; port: string } | null {
  const dot = written.lastIndexOf('.');
  const element = layout.elements[layout.elementByName.get(written.slice(0, dot)) ?? -1];
  return element ? { element, port: written.slice(dot + 1) } : null;
}

function pointOf(layout: Layout, written: string, portAt: PortAt): Point | null {
  const found = elementOf(layout, written);
  return found && portAt(found.element, found.port);
}

/** A … Z, then A2 … Z2 and so on. */
function letterOf(number: number): string {
  const letter = String.fromCodePoint(65 + (number % 26));
  const round = Math.floor(number / 26);
  return round === 0 ? letter : `${letter}${round + 1}`;
}
