import { missingPlaces, withPlaces } from '@blockbell/drawing';
import type { ElementFile, LayoutFile } from '@blockbell/railway';
import escapeHtml from 'escape-html';
import type { RehearsalReport } from '../report/report.js';
import { box, FAINT, minutes, picture, text, words } from './drawing.js';

type Point = readonly [number, number];
/** A station with its blocks. */
interface Named {
  readonly name: string;
  readonly blocks: ReadonlySet<string>;
}
/** A line of track on the picture. */
interface Stretch {
  readonly element: string;
  readonly points: readonly Point[];
}

const WIDTH = 1100;
const MARGIN = 30;
/** Room for the heading, and between levels that lie one below the other. */
const TOP = 60;
const BETWEEN = 60;
/** Ink of the stations' names. */
const NAME = '#4b5b6b';
/** How many of the worst places are named on the picture. */
const NAMED = 8;
/** From little to much waiting; width tells the same without colour. */
const HEAT = ['#f2d4a0', '#e8a860', '#d9772f', '#b94a1a', '#7f1d0d'];

/** The track diagram with the places where trains wait for others: the longer, the darker and the broader. */
export function heatPicture({ waits }: RehearsalReport, layout: LayoutFile): string {
  const levels = drawnLevels(layout);
  const most = Math.max(0, ...waits.byPlace.map(({ perSession }) => perSession));
  const time = new Map(waits.byPlace.map(({ element, perSession }) => [element, perSession]));
  const named = new Set(waits.byPlace.slice(0, NAMED).map(({ element }) => element));
  const places = new Map(waits.byPlace.map((it) => [it.element, it.place]));
  const parts = [
    text(MARGIN, 24, 'Where trains wait for others, minutes of the fast clock in a session'),
    ...legend(most),
  ];
  const labels: string[] = [];
  const stations = layout.stations.map(({ name, tracks }): Named => ({
    name,
    blocks: new Set(tracks.flatMap(({ blocks }) => blocks)),
  }));
  let y = TOP;
  for (const { name, stretches } of levels) {
    const [scale, height, at] = fitted(stretches, y);
    if (levels.length > 1) parts.push(text(MARGIN, y, name));
    for (const { points } of stretches) parts.push(track(points.map(at), FAINT, 3));
    for (const { element, points } of stretches) {
      const waited = time.get(element) ?? 0;
      if (waited <= 0 || most <= 0) continue;
      const shade = Math.min(HEAT.length - 1, Math.floor((HEAT.length * waited) / most));
      const hint = `${places.get(element)}: ${minutes(waited)}`;
      parts.push(track(points.map(at), HEAT[shade]!, 5 + 9 * (waited / most), hint));
      if (!named.delete(element)) continue;
      const [x, above] = at(middleOf(points));
      labels.push(words(x, above - 10, minutes(waited)));
    }
    for (const station of stations) {
      const own = stretches.filter(({ element }) => station.blocks.has(element));
      const points = own.flatMap((it) => it.points.map(at));
      if (points.length === 0) continue;
      const lowest = greatest(points.map(([, down]) => down));
      labels.push(words(mean(points.map(([x]) => x)), lowest + 18, station.name, NAME));
    }
    y += height * scale + BETWEEN;
  }
  return picture(WIDTH, y, 'Track diagram with the places where trains wait', [
    ...parts,
    ...labels,
  ]);
}

function legend(most: number): string[] {
  if (most <= 0) return [text(MARGIN, 44, 'No train waited for another.')];
  return HEAT.flatMap((shade, step) => [
    box(530 + step * 110, 14, 20, 12, shade),
    text(555 + step * 110, 24, `to ${minutes((most * (step + 1)) / HEAT.length)}`),
  ]);
}

/** How a level's track is brought into the width of the picture. */
function fitted(
  stretches: readonly Stretch[],
  top: number,
): readonly [scale: number, height: number, at: (point: Point) => Point] {
  const xs = stretches.flatMap(({ points }) => points.map(([x]) => x));
  const ys = stretches.flatMap(({ points }) => points.map(([, y]) => y));
  const [left, right] = [least(xs), greatest(xs)];
  const [up, down] = [least(ys), greatest(ys)];
  const scale = (WIDTH - 2 * MARGIN) / Math.max(1, right - left);
  const at = ([x, y]: Point): Point => [MARGIN + (x - left) * scale, top + 30 + (y - up) * scale];
  return [scale, down - up, at];
}

const least = (values: readonly number[]): number =>
  values.reduce((before, value) => Math.min(before, value), values[0] ?? 0);

const greatest = (values: readonly number[]): number =>
  values.reduce((before, value) => Math.max(before, value), values[0] ?? 0);

/** The levels of a layout that have track, each with its lines. */
function drawnLevels(file: LayoutFile): { name: string; stretches: Stretch[] }[] {
  const { levels, elements } = withPlaces(file, missingPlaces(file));
  return levels
    .map(({ id, name }) => ({
      name,
      stretches: elements
        .filter(({ draw }) => draw?.level === id)
        .flatMap((element) => linesOf(element).map((points) => ({ element: element.id, points }))),
    }))
    .filter(({ stretches }) => stretches.length > 0);
}

/** A block from end to end over its bends; of everything else a line from each port to where they meet. */
function linesOf({ kind, draw }: ElementFile): Point[][] {
  if (draw === undefined) return [];
  const ports = Object.values(draw.ports);
  if (kind === 'block') {
    const [a, b] = [draw.ports['a'], draw.ports['b']];
    return a === undefined || b === undefined ? [] : [[a, ...(draw.via ?? []), b]];
  }
  const stem = draw.ports['stem'];
  const node: Point = stem ?? [mean(ports.map(([x]) => x)), mean(ports.map(([, y]) => y))];
  return ports.filter((port) => port !== stem).map((port) => [node, port]);
}

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);

const middleOf = (points: readonly Point[]): Point => {
  const [first, last] = [points[0]!, points.at(-1)!];
  return [(first[0] + last[0]) / 2, (first[1] + last[1]) / 2];
};

/** A line of track with a hint. */
function track(points: readonly Point[], stroke: string, width: number, hint = ''): string {
  const pairs = points.map(([x, y]) => `${Math.round(x * 10) / 10},${Math.round(y * 10) / 10}`);
  const title = hint === '' ? '' : `<title>${escapeHtml(hint)}</title>`;
  return `<polyline points="${pairs.join(' ')}" fill="none" stroke="${stroke}" stroke-width="${Math.round(width * 10) / 10}" stroke-linecap="round" stroke-linejoin="round">${title}</polyline>`;
}
