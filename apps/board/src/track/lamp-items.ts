import { blockOf } from '@blockbell/railway';
import type { LiveRows } from '../live/live-rows.js';
import type { LampSpot } from './lamp-spots.js';
import type { Item, Pen } from './paint-layer.js';
import { DETAIL_FROM, dot, inPixels, write } from './strokes.js';

const LETTERS = { stop: 'S', caution: 'C', proceed: 'P' } as const;
/** The signals, each before the end of its block. `scale`: for which their spots were found. */
export const lampItems = (
  spots: readonly LampSpot[],
  scale: number,
  rows: LiveRows,
): readonly Item[] => spots.map((spot) => lampItem(spot, scale, rows));

export const aspectOf = (rows: LiveRows, heading: number): keyof typeof LETTERS =>
  rows.signals.get(heading)?.aspect ?? 'stop';

export const lampWords = (name: string, aspect: string): string =>
  `Signal at the end of ${name}: ${aspect}`;

/** Whether the train that holds the block is coming to this signal. */
function isFaced(rows: LiveRows, heading: number): boolean {
  const block = blockOf(heading);
  const holder = rows.elements.get(block)?.holder ?? -1;
  const exit = (heading & 1) === 0 ? 'b' : 'a';
  return (
    holder >= 0 &&
    (rows.trains.get(holder)?.path.some(({ element, to }) => element === block && to === exit) ??
      false)
  );
}

function lampItem({ heading, at, angle, roomy }: LampSpot, scale: number, rows: LiveRows): Item {
  const point = [at[0] / scale, at[1] / scale] as const;
  /** A signal at stop that no train is coming to is drawn as a quiet bar; in close quarters stop is a square. */
  const look = () => {
    const aspect = aspectOf(rows, heading);
    if (aspect !== 'stop') return aspect;
    if (!isFaced(rows, heading)) return 'bar';
    return roomy ? 'stop' : 'square';
  };
  return {
    box: { x: point[0], y: point[1], width: 0, height: 0 },
    reach: 8,
    look,
    paint: (pen) => {
      const shape = look();
      const { context, inks } = pen;
      if (shape === 'bar' && pen.scale < DETAIL_FROM) return;
      inPixels(pen, point, shape === 'bar' ? angle : 0, () => {
        if (shape === 'bar') {
          context.fillStyle = inks.of('--lamp-closed');
          context.beginPath();
          context.roundRect(-1, -3.5, 2, 7, 1);
          context.fill();
        } else if (shape === 'square') {
          context.fillStyle = inks.of('--lamp-stop');
          const half = pen.scale < DETAIL_FROM ? 2 : 3.5;
          context.fillRect(-half, -half, 2 * half, 2 * half);
        } else paintLamp(pen, shape);
      });
    },
  };
}

function paintLamp(pen: Pen, aspect: keyof typeof LETTERS): void {
  dot(pen, 7);
  pen.context.fillStyle = pen.inks.of(`--lamp-${aspect}`);
  pen.context.fill();
  write(pen, LETTERS[aspect], '700 12px', '--lamp-ink', 4.2);
}
