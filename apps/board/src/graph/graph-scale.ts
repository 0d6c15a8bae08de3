import type { Layout } from '@blockbell/railway';
import type { GraphPoint } from './graph-lines.js';

const MINUTE = 60_000;
/** How much of the past the moving window keeps in sight, and its whole width, fast ms. */
const PAST = 30 * MINUTE;
export const WINDOW = 90 * MINUTE;
/** About the width of a letter of a station's name, the room around it, and what the longest name gets, pixels. */
const NAME_LETTER = 7;
const AROUND_NAME = 20;
const LONGEST_NAME = 150;
/** Least pixels between two station names, and between two time labels. */
const NAME_ROOM = 15;
const TIME_ROOM = 62;

export interface TimeSpan {
  readonly from: number;
  readonly to: number;
}

/** The window that follows the clock in steps of ten minutes, within the session. */
export function spanAround(fast: number, session: TimeSpan): TimeSpan {
  const step = 10 * MINUTE;
  const latest = Math.max(session.from, session.to - WINDOW);
  const from = Math.min(latest, Math.max(session.from, Math.floor((fast - PAST) / step) * step));
  return { from, to: Math.min(from + WINDOW, Math.max(session.to, from + step)) };
}

/** Pixels that station names take beside the graph. */
export const nameRoom = ({ stations }: Layout): number =>
  Math.min(
    LONGEST_NAME,
    AROUND_NAME + NAME_LETTER * Math.max(0, ...stations.map(({ file }) => file.name.length)),
  );

/** Ten-minute steps, or coarser where they would stand too close. */
export function timeMarks({ from, to }: TimeSpan, width: number): readonly number[] {
  const most = Math.max(1, Math.floor(width / TIME_ROOM));
  const steps = [5, 10, 15, 20, 30, 60, 120, 240].map((minutes) => minutes * MINUTE);
  const step = steps.find((one) => (to - from) / one <= most) ?? 480 * MINUTE;
  const first = Math.ceil(from / step) * step;
  const count = Math.max(0, Math.floor((to - first) / step) + 1);
  return Array.from({ length: count }, (_, index) => first + index * step);
}

/** A station's line across the graph; its name moved aside where another stands too close. */
export interface StationMark {
  readonly name: string;
  readonly y: number;
  readonly nameY: number;
}

export interface ChainageScale {
  readonly y: (chainage: number) => number;
  readonly marks: readonly StationMark[];
}

/** Stations by chainage down the side, the least at the top. */
export function chainageScale(layout: Layout, top: number, height: number): ChainageScale {
  const chainages = layout.stations.map(({ file }) => file.chainage);
  const least = Math.min(...chainages);
  const range = Math.max(...chainages) - least;
  const y = (chainage: number): number =>
    range === 0 ? top + height / 2 : top + ((chainage - least) / range) * height;
  const sorted = layout.stations
    .map(({ file }) => ({ name: file.name, y: y(file.chainage) }))
    .toSorted((p, q) => p.y - q.y);
  const nameYs = spread(
    sorted.map((mark) => mark.y),
    top + height,
  );
  return { y, marks: sorted.map((mark, index) => ({ ...mark, nameY: nameYs[index] ?? mark.y })) };
}

/** Moves ascending places apart to `NAME_ROOM`, back up where they would leave the end. */
function spread(places: readonly number[], end: number): readonly number[] {
  const down: number[] = [];
  for (const place of places) down.push(Math.max(place, (down.at(-1) ?? -Infinity) + NAME_ROOM));
  const up: number[] = [];
  for (const place of down.toReversed())
    up.unshift(Math.min(place, (up[0] ?? end + NAME_ROOM) - NAME_ROOM));
  return up;
}

export const graphPath = (
  points: readonly GraphPoint[],
  x: (fast: number) => number,
  y: (chainage: number) => number,
): string =>
  points
    .map(
      ({ fast, chainage }, index) =>
        `${index === 0 ? 'M' : 'L'}${x(fast).toFixed(1)} ${y(chainage).toFixed(1)}`,
    )
    .join('');
