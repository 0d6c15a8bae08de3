import type { Inks } from './inks.svelte.js';
import type { Point } from './line.js';
import { showAs } from './paint-layer.js';
import type { Pen } from './paint-layer.js';
import type { Brush } from './strokes.js';

/** Paints a mark around the origin of a context whose unit is a pixel. */
type PaintMark = (brush: Brush) => void;

interface Stamps {
  readonly version: number;
  readonly ratio: number;
  readonly images: Map<string, ImageBitmap>;
}

const known = new WeakMap<Inks, Stamps>();

/**
 * Puts a small mark at a point of the drawing, upright and on whole dots of the screen. Letters cost hundreds of times as much as a
 * picture of them, so each mark is painted once in the colours in force. `name`: another for each mark that looks different.
 * `across`: pixels of a square that holds it.
 */
export function stamp(
  pen: Pen,
  [x, y]: Point,
  name: string,
  across: number,
  mark: PaintMark,
): void {
  const { context, sight, ratio } = pen;
  const image = imageOf(pen, name, across, mark);
  const left = Math.round((x * sight.scale + sight.offsetX) * ratio) - image.width / 2;
  const top = Math.round((y * sight.scale + sight.offsetY) * ratio) - image.height / 2;
  context.setTransform(1, 0, 0, 1, 0, 0);
  context.drawImage(image, left, top);
  showAs(context, sight, ratio);
}

function imageOf({ inks, ratio }: Pen, name: string, across: number, mark: PaintMark): ImageBitmap {
  const { images } = stampsFor(inks, ratio);
  const found = images.get(name);
  if (found) return found;
  const dots = 2 * Math.ceil((across * ratio) / 2);
  const canvas = new OffscreenCanvas(dots, dots);
  const context = canvas.getContext('2d');
  if (context) {
    context.setTransform(ratio, 0, 0, ratio, dots / 2, dots / 2);
    mark({ context, inks });
  }
  const image = canvas.transferToImageBitmap();
  images.set(name, image);
  return image;
}

/** Those painted in the colours in force, for a screen with so many dots in a pixel. */
function stampsFor(inks: Inks, ratio: number): Stamps {
  const found = known.get(inks);
  if (found?.version === inks.version && found.ratio === ratio) return found;
  const made = { version: inks.version, ratio, images: new Map() };
  known.set(inks, made);
  return made;
}
