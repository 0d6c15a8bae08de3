import type { Inks } from './inks.svelte.js';
import type { Point } from './line.js';
import type { Pen } from './paint-layer.js';

/** How a line is drawn; lengths in pixels of the screen. */
export interface Stroke {
  /** Name of the style property that holds its colour. */
  readonly ink: string;
  readonly width: number;
  readonly dash?: readonly number[];
  readonly cap?: CanvasLineCap;
  readonly opacity?: number;
}

/** What small marks are painted with. */
export interface Brush {
  readonly context: CanvasRenderingContext2D | OffscreenCanvasRenderingContext2D;
  readonly inks: Inks;
}

/** Lines on a drawing seen from afar are thinner, so that parallel track stays apart: pixels at a scale. */
export const lineWidth = (width: number, scale: number): number =>
  width * Math.min(1, Math.max(0.5, scale / 7));

/** Draws a path that is given in the board's units. */
export function stroke(
  { context, scale, inks }: Pen,
  path: Path2D,
  { ink, width, dash = [], cap = 'butt', opacity = 1 }: Stroke,
): void {
  context.strokeStyle = inks.of(ink);
  context.lineWidth = width / scale;
  context.lineCap = cap;
  context.lineJoin = 'round';
  context.globalAlpha = opacity;
  context.setLineDash(dash.map((length) => length / scale));
  context.stroke(path);
  context.globalAlpha = 1;
}

/** Paints around a point of the drawing in pixels, turned by so many radians. */
export function inPixels(
  { context, scale }: Pen,
  [x, y]: Point,
  angle: number,
  paint: () => void,
): void {
  context.save();
  context.translate(x, y);
  context.rotate(angle);
  context.scale(1 / scale, 1 / scale);
  context.setLineDash([]);
  context.lineCap = 'butt';
  paint();
  context.restore();
}

/** Writes a text, its middle at x 0, its foot at `y`, in pixels. */
export function write(
  { context, inks }: Brush,
  text: string,
  font: string,
  ink: string,
  y: number,
): void {
  context.font = `${font} ${inks.of('--font')}`;
  context.textAlign = 'center';
  context.fillStyle = inks.of(ink);
  context.fillText(text, 0, y);
}

export function dot({ context }: Brush, radius: number): void {
  context.beginPath();
  context.arc(0, 0, radius, 0, 2 * Math.PI);
}

/** A path through each of the polylines. */
export function pathOf(lines: readonly (readonly Point[])[]): Path2D {
  const path = new Path2D();
  for (const points of lines)
    points.forEach(([x, y], index) => (index === 0 ? path.moveTo(x, y) : path.lineTo(x, y)));
  return path;
}
