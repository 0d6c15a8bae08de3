import type { LiveRows } from '../live/live-rows.js';
import { DETAIL_FROM } from './detail.js';
import { BAR, lampShape, lampShows, LETTER, squareSize } from './lamp-shapes.js';
import type { Aspect } from './lamp-shapes.js';
import type { LampSpot } from './lamp-spots.js';
import type { Point } from './line.js';
import type { Item, Pen } from './paint-layer.js';
import { stamp } from './stamps.js';
import { dot, pathOf, stroke, write } from './strokes.js';
import type { Brush } from './strokes.js';

/** Of a quiet bar, pixels. */
const BAR_WIDTH = 2;
/** Call-on: at restricted speed. */
const LETTERS: Readonly<Record<Aspect, string>> = {
  stop: 'S',
  'call-on': 'R',
  caution: 'C',
  proceed: 'P',
};

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
      if (shape === 'bar') {
        if (pen.scale >= DETAIL_FROM) paintBar(pen, point, angle);
      } else if (shape === 'square') {
        const size = squareSize(pen.scale);
        stamp(pen, point, `square ${size}`, size, ({ context, inks }) => {
          context.fillStyle = inks.of('--lamp-stop');
          context.fillRect(-size / 2, -size / 2, size, size);
        });
      } else stamp(pen, point, shape, LETTER, (brush) => paintLamp(brush, shape));
    },
  };
}

/** Across the track. */
function paintBar(pen: Pen, [x, y]: Point, angle: number): void {
  const half = (BAR - BAR_WIDTH) / 2 / pen.scale;
  const [dx, dy] = [-Math.sin(angle) * half, Math.cos(angle) * half];
  const path = pathOf([
    [
      [x - dx, y - dy],
      [x + dx, y + dy],
    ],
  ]);
  stroke(pen, path, { ink: '--lamp-closed', width: BAR_WIDTH, cap: 'round' });
}

function paintLamp(brush: Brush, aspect: Aspect): void {
  dot(brush, LETTER / 2);
  brush.context.fillStyle = brush.inks.of(`--lamp-${aspect}`);
  brush.context.fill();
  write(brush, LETTERS[aspect], '700 12px', '--lamp-ink', 4.2);
}
