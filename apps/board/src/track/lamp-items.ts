import type { LiveRows } from '../live/live-rows.js';
import { DETAIL_FROM } from './detail.js';
import { BAR, lampShape, lampShows, LETTER, squareSize } from './lamp-shapes.js';
import type { Aspect } from './lamp-shapes.js';
import type { LampSpot } from './lamp-spots.js';
import type { Item, Pen } from './paint-layer.js';
import { dot, inPixels, write } from './strokes.js';

const LETTERS: Readonly<Record<Aspect, string>> = { stop: 'S', caution: 'C', proceed: 'P' };

/** The signals, each before the end of its block. `scale`: for which their spots were found. */
export const lampItems = (
  spots: readonly LampSpot[],
  scale: number,
  rows: LiveRows,
): readonly Item[] => spots.map((spot) => lampItem(spot, scale, rows));

function lampItem(spot: LampSpot, scale: number, rows: LiveRows): Item {
  const { at, angle } = spot;
  const point = [at[0] / scale, at[1] / scale] as const;
  const look = () => lampShape(spot, rows);
  return {
    box: { x: point[0], y: point[1], width: 0, height: 0 },
    reach: 8,
    shows: lampShows(spot),
    look,
    paint: (pen) => {
      const shape = look();
      const { context, inks } = pen;
      if (shape === 'bar' && pen.scale < DETAIL_FROM) return;
      inPixels(pen, point, shape === 'bar' ? angle : 0, () => {
        if (shape === 'bar') {
          context.fillStyle = inks.of('--lamp-closed');
          context.beginPath();
          context.roundRect(-1, -BAR / 2, 2, BAR, 1);
          context.fill();
        } else if (shape === 'square') {
          context.fillStyle = inks.of('--lamp-stop');
          const size = squareSize(pen.scale);
          context.fillRect(-size / 2, -size / 2, size, size);
        } else paintLamp(pen, shape);
      });
    },
  };
}

function paintLamp(pen: Pen, aspect: Aspect): void {
  dot(pen, LETTER / 2);
  pen.context.fillStyle = pen.inks.of(`--lamp-${aspect}`);
  pen.context.fill();
  write(pen, LETTERS[aspect], '700 12px', '--lamp-ink', 4.2);
}
