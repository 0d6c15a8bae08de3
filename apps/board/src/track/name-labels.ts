import type { Box } from './box.js';
import { boxAround, centredAt, contains, within } from './box.js';
import type { BlockShape, Diagram } from './diagram.js';
import { LabelField, NOWHERE } from './label-field.js';
import type { Candidate } from './label-field.js';
import { lineOf, pointAt, pointsAlong } from './line.js';
import type { Line, Point } from './line.js';
import { shapesByBlock, stationsOnLevels } from './station-areas.js';
import { NAME_MARGIN } from './name-margin.js';
import { shortened } from './shorten.js';

export type NameKind = 'level' | 'station' | 'track' | 'block';

/** A name on the drawing, in screen pixels from the drawing's origin. */
export interface NameLabel {
  readonly kind: NameKind;
  readonly text: string;
  /** The whole name, where there was no room for it. */
  readonly full?: string;
  readonly box: Box;
}

/** Width of a text in pixels. */
export type Measure = (text: string, kind: NameKind) => number;

/** Heights of the letters without the room above and below them, pixels. */
const HEIGHT: Readonly<Record<NameKind, number>> = { level: 13, station: 14, track: 11, block: 11 };
/** Tracks of stations are named from this scale on; below, their names would hide the track. */
const TRACK_NAMES_FROM = 5;
/** Blocks that no station names are named themselves from this scale on (pixels per drawing unit). */
const BLOCK_NAMES_FROM = 24;
/** A name over a track line is hard to read: cost of each sampled point under it. */
const TRACK_COST = 3;
const SAMPLE = 5;
/** Signals are worse to cover than track. */
const LAMP_COST = 30;
/** What a place off the sheet costs, where a drawing that is shown whole is cut. */
const OFF_SHEET = 60;
/** Where on a track its name may stand, best first: fractions of a station's width, or of a line's length. */
const PLACES = [0.3, 0.5, 0.7, 0.4, 0.6, 0.2, 0.8, 0.1, 0.9];
/** How much of its track's length a name may cover, or pixels where that is less: most of what stands there must be seen. */
const TRACK_SHARE = 0.3;
const LEAST_NAME = 42;
/** Room to the left and right of a name that lies on its track. */
const ON_TRACK = 4;

/** Screen pixels of a point of the drawing, before panning. */
export const scaled = ([x, y]: Point, scale: number): Point => [x * scale, y * scale];
const scaledLine = (line: Line, scale: number): Line =>
  lineOf(line.points.map((point) => scaled(point, scale)));

/**
 * Places every name that finds room at this scale: levels, then tracks, then stations, then blocks, none over
 * another. A track's name lies on the track itself, so that nobody has to ask which one is meant. No name lies over a box that is `kept` for something else and rather not over a lamp. The field that comes back has the names blocked and the track softened, for the trains' labels.
 */
export function placeNames(
  diagram: Diagram,
  scale: number,
  measure: Measure,
  kept: readonly Box[] = [],
  lamps: readonly Point[] = [],
): { names: readonly NameLabel[]; field: LabelField } {
  const field = new LabelField();
  const names: NameLabel[] = [];
  softenTrack(diagram, scale, field);
  for (const box of kept) field.block(box);
  for (const lamp of lamps) field.soften(lamp, LAMP_COST);

  const put = (
    kind: NameKind,
    text: string,
    candidates: readonly Candidate[],
    full = text,
  ): void => {
    const chosen = field.cheapest(candidates.length, (index) => candidates[index] ?? NOWHERE);
    const box = chosen === null ? undefined : candidates[chosen]?.box;
    if (!box) return;
    field.block(box);
    names.push({ kind, text, ...(full === text ? {} : { full }), box });
  };

  for (const { name, box } of diagram.grounds) {
    const [x, y] = scaled([box.x, box.y], scale);
    put('level', name, [
      {
        box: { x: x + 12, y: y + 8, width: measure(name, 'level'), height: HEIGHT.level },
        cost: 0,
      },
    ]);
  }
  const named = new Set<number>();
  const shapes = shapesByBlock(diagram);
  for (const { tracks } of diagram.layout.stations) {
    for (const { blocks } of tracks) for (const block of blocks) named.add(block);
    const lines = tracks.map(({ blocks }) =>
      longest(blocks.flatMap((block) => shapes.get(block) ?? [])),
    );
    const area = boxAround(lines.flatMap((shape) => shape?.line.points ?? []));
    tracks.forEach(({ name }, index) => {
      const shape = lines[index];
      if (!shape || !area || scale < TRACK_NAMES_FROM) return;
      const room = Math.max(LEAST_NAME, shape.line.length * scale * TRACK_SHARE);
      const text = shortened(name, room, (part) => measure(part, 'track'));
      put('track', text, onLine(shape.line, area, scale, measure(text, 'track')), name);
    });
  }
  const sheet = sheetOf(diagram, scale);
  for (const { name, area } of stationsOnLevels(diagram)) {
    const places = aroundArea(area, scale, measure(name, 'station'));
    put(
      'station',
      name,
      places.map(({ box, cost }) => ({ box, cost: within(box, sheet) ? cost : cost + OFF_SHEET })),
    );
  }
  if (scale >= BLOCK_NAMES_FROM) {
    for (const { element, name, line } of diagram.blocks)
      if (!named.has(element.index))
        put('block', name, besideLine(line, scale, measure(name, 'block')));
  }
  return { names, field };
}

function softenTrack(diagram: Diagram, scale: number, field: LabelField): void {
  const lines = [
    ...diagram.blocks.map(({ line }) => line),
    ...diagram.junctions.flatMap(({ legs }) => legs.map(({ line }) => line)),
  ];
  for (const line of lines) {
    const drawn = scaledLine(line, scale);
    const count = Math.ceil(drawn.length / SAMPLE);
    for (const point of pointsAlong(drawn, count)) field.soften(point, TRACK_COST);
  }
}

/** The drawing with the room for names that is left above and below it. */
function sheetOf({ box }: Diagram, scale: number): Box {
  const [x, y] = scaled([box.x, box.y], scale);
  return {
    x,
    y: y - NAME_MARGIN,
    width: box.width * scale,
    height: box.height * scale + 2 * NAME_MARGIN,
  };
}

/** Above, below, then beside an area; farther away costs more. */
function aroundArea(area: Box, scale: number, width: number): readonly Candidate[] {
  const height = HEIGHT.station;
  const x = area.x * scale;
  const y = area.y * scale;
  const right = x + area.width * scale;
  const bottom = y + area.height * scale;
  const middle = (x + right) / 2;
  return [0, 1, 2, 3, 4].flatMap((step) => {
    const away = 10 + step * 9;
    return [
      { box: { x: middle - width / 2, y: y - away - height, width, height }, cost: step * 2 },
      { box: { x: middle - width / 2, y: bottom + away, width, height }, cost: 1 + step * 2 },
      {
        box: { x: x - away - width, y: (y + bottom - height) / 2, width, height },
        cost: 3 + step * 2,
      },
      { box: { x: right + away, y: (y + bottom - height) / 2, width, height }, cost: 3 + step * 2 },
    ];
  });
}

/** On the line: where the station's columns cross it, so that the names of parallel tracks stand in one column. */
function onLine(line: Line, area: Box, scale: number, width: number): readonly Candidate[] {
  const drawn = scaledLine(line, scale);
  const height = HEIGHT.track;
  return PLACES.flatMap((place, at) => {
    const column = (area.x + area.width * place) * scale;
    const point = crossing(drawn, column) ?? pointAt(drawn, place).point;
    return [{ box: centredAt(point, width + 2 * ON_TRACK, height), cost: at * 20 }];
  });
}

/** Where the line first reaches an x, or null where it doesn't. */
function crossing(line: Line, x: number): Point | null {
  for (const [index, [toX, toY]] of line.points.entries()) {
    const [fromX, fromY] = line.points[index - 1] ?? [toX, toY];
    if (fromX !== toX && (fromX - x) * (toX - x) <= 0)
      return [x, fromY + ((x - fromX) / (toX - fromX)) * (toY - fromY)];
  }
  return null;
}

/** Close above or below the line, at one of a few places along it. */
function besideLine(line: Line, scale: number, width: number): readonly Candidate[] {
  const drawn = scaledLine(line, scale);
  const height = HEIGHT.track;
  return PLACES.flatMap((place, at) => {
    const { point, angle } = pointAt(drawn, place);
    // The flatter the line, the closer a text can stand to it.
    const away = (height + Math.abs(Math.sin(angle)) * width) / 2 + Math.max(5, scale * 0.3);
    return [-1, 1].map((side) => ({
      box: centredAt([point[0], point[1] + side * away], width, height),
      cost: at + (side > 0 ? 0.5 : 0),
    }));
  });
}

const longest = (shapes: readonly BlockShape[]): BlockShape | undefined =>
  shapes.reduce<BlockShape | undefined>(
    (best, shape) => (best && best.line.length >= shape.line.length ? best : shape),
    undefined,
  );

/** Letters, marks and lamps that take a place of their own before trains are labelled. */
export const linkBoxes = (diagram: Diagram, scale: number): readonly Box[] =>
  diagram.links
    .filter(({ letter }) => letter !== null)
    .flatMap(({ from, to }) => [from, to].map((point) => centredAt(scaled(point, scale), 18, 18)));

/** The whole of a shortened name under a point, in pixels from the drawing's origin; null: none is there. */
export const fullNameAt = (names: readonly NameLabel[], point: Point): string | null =>
  names.find(({ full, box }) => full !== undefined && contains(box, point))?.full ?? null;
