import type { Element, Layout, Leg } from '@blockbell/railway';
import { boxAround, cornersOf } from './box.js';
import type { Box } from './box.js';
import { drawingUnit } from './drawing-unit.js';
import { layGrounds } from './grounds.js';
import type { Ground } from './grounds.js';
import { lineOf, reversed } from './line.js';
import type { Line, Point } from './line.js';
import { findLinks } from './links.js';
import type { BrokenLink } from './links.js';

/** A block with what each detector sees of it, as fractions of the way from `a` to `b`. */
export interface BlockShape {
  readonly element: Element;
  readonly name: string;
  readonly line: Line;
  readonly pieces: readonly {
    readonly section: number;
    readonly from: number;
    readonly to: number;
  }[];
}

/** A turnout, three-way, crossing or slip: its legs between port points. */
export interface JunctionShape {
  readonly element: Element;
  /** Where its legs meet. */
  readonly node: Point;
  readonly legs: readonly { readonly leg: Leg; readonly line: Line }[];
}

/** A buffer stop, and the direction in which the track comes to its end. */
export interface EndShape {
  readonly element: Element;
  readonly point: Point;
  readonly angle: number;
}

/** The drawing of a layout, in the board's units (about one from track to track); computed once, nothing in it changes while trains run. */
export interface Diagram {
  readonly layout: Layout;
  readonly box: Box;
  readonly grounds: readonly Ground[];
  readonly blocks: readonly BlockShape[];
  readonly junctions: readonly JunctionShape[];
  readonly ends: readonly EndShape[];
  readonly links: readonly BrokenLink[];
  /** The way through an element in the direction of travel, or null where it isn't drawn. */
  readonly way: (element: number, from: string, to: string) => Line | null;
}

/** Null when the layout has no elements. Every element must have a place. */
export function drawLayout(layout: Layout): Diagram | null {
  const unit = drawingUnit(layout);
  const { grounds, shifts } = layGrounds(layout, unit);
  const box = boxAround(grounds.flatMap((ground) => cornersOf(ground.box)));
  if (!box) return null;

  const place = ({ level }: Element, [x, y]: Point): Point => [
    x / unit,
    y / unit + (shifts[level] ?? 0),
  ];
  const portAt = (element: Element, port: string): Point | null => {
    const point = element.file?.draw?.ports[port];
    return point ? place(element, point) : null;
  };
  const lines = new Map<string, Line | null>();
  const drawWay = (element: Element, from: string, to: string): Line | null => {
    const start = portAt(element, from);
    const end = portAt(element, to);
    const via = (element.file?.draw?.via ?? []).map((point) => place(element, point));
    if (!start || !end) return null;
    if (element.kind !== 'block') return lineOf([start, end]);
    return from === 'a' ? lineOf([start, ...via, end]) : reversed(lineOf([end, ...via, start]));
  };
  const way = (index: number, from: string, to: string): Line | null => {
    const key = `${index}:${from}:${to}`;
    const known = lines.get(key);
    if (known !== undefined) return known;
    const element = layout.elements[index];
    const line = element ? drawWay(element, from, to) : null;
    lines.set(key, line);
    return line;
  };

  const physical = layout.elements.filter(({ kind }) => kind !== 'polarity');
  const { links, angleAt } = findLinks(layout, portAt, way);
  return {
    layout,
    box,
    grounds,
    blocks: physical.flatMap((element) =>
      blockShape(layout, element, way(element.index, 'a', 'b')),
    ),
    junctions: physical.flatMap((element) => junctionShape(element, way)),
    ends: physical.flatMap((element) => {
      const point = element.kind === 'buffer-stop' ? portAt(element, 'a') : null;
      return point ? [{ element, point, angle: angleAt(`${element.id}.a`) }] : [];
    }),
    links,
    way,
  };
}

function blockShape(layout: Layout, element: Element, line: Line | null): readonly BlockShape[] {
  const { file } = element;
  if (file?.kind !== 'block' || !line) return [];
  let reached = 0;
  const pieces = file.detection.map(({ section, length }) => {
    const from = reached / element.length;
    reached += length;
    return {
      section: layout.sectionByName.get(section ?? '') ?? -1,
      from,
      to: reached / element.length,
    };
  });
  return [{ element, name: file.name ?? element.id, line, pieces }];
}

function junctionShape(element: Element, way: Diagram['way']): readonly JunctionShape[] {
  if (element.kind === 'block' || element.kind === 'buffer-stop') return [];
  const legs = element.legs.flatMap((leg) => {
    const line = way(element.index, leg.from, leg.to);
    return line ? [{ leg, line }] : [];
  });
  const node = nodeOf(
    element,
    legs.map(({ line }) => line),
  );
  return node ? [{ element, node, legs }] : [];
}

/** Turnouts meet at their stem, crossings and slips in their middle. */
function nodeOf({ kind }: Element, lines: readonly Line[]): Point | null {
  const starts = lines.map(({ points }) => points[0]).filter((point) => point !== undefined);
  if (kind === 'turnout' || kind === 'three-way') return starts[0] ?? null;
  const box = boxAround(lines.flatMap(({ points }) => points));
  return box ? [box.x + box.width / 2, box.y + box.height / 2] : null;
}
