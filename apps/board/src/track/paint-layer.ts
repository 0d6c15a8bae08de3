import { grown, overlap } from './box.js';
import type { Box } from './box.js';
import type { Inks } from './inks.svelte.js';

/** What a painter paints with. The context's units are the board's; widths on screen are divided by `scale`. */
export interface Pen {
  readonly context: CanvasRenderingContext2D;
  /** Pixels in one of the board's units. */
  readonly scale: number;
  readonly inks: Inks;
  /** The part that is painted, in the board's units: nothing outside needs to be. */
  readonly area: Box;
}

/** Something that stands on the track picture. */
export interface Item {
  /** Where it lies, in the board's units. */
  readonly box: Box;
  /** How many pixels its lines and marks reach beyond the box. */
  readonly reach: number;
  /** What is seen of it, as text: it is painted anew when this is another. Default: always the same. */
  readonly look?: () => string;
  readonly paint: (pen: Pen) => void;
}

/** Which part of the drawing is seen, and how large. */
export interface Sight {
  readonly width: number;
  readonly height: number;
  readonly scale: number;
  readonly offsetX: number;
  readonly offsetY: number;
}

/** More changed places than this cost more one by one than all at once. */
const MOST_PLACES = 40;

/** A canvas that is painted anew only where something on it looks different. */
export class PaintLayer {
  #items: readonly Item[] = [];
  #looks: readonly string[] = [];
  #sight: Sight | null = null;
  #inks = -1;

  constructor(readonly canvas: HTMLCanvasElement) {}

  /** `looks`: of the items, by their index. */
  show(items: readonly Item[], looks: readonly string[], sight: Sight, inks: Inks): void {
    const before = this.#looks;
    const anew =
      items !== this.#items ||
      inks.version !== this.#inks ||
      this.#sight === null ||
      !sameSight(sight, this.#sight);
    this.#items = items;
    this.#looks = looks;
    this.#inks = inks.version;
    this.#sight = sight;
    const changed = anew ? [] : items.filter((_, index) => looks[index] !== before[index]);
    if (anew || changed.length > MOST_PLACES) {
      this.#paint(inks, sight, { x: 0, y: 0, width: sight.width, height: sight.height });
      return;
    }
    for (const item of changed) this.#paint(inks, sight, placeOnScreen(item, sight));
  }

  /** Paints what lies in a part of the screen. */
  #paint(inks: Inks, sight: Sight, part: Box): void {
    const ratio = fitCanvas(this.canvas, sight);
    const context = this.canvas.getContext('2d');
    if (!context) return;
    // Whole dots of the screen, so that no seam is left where parts meet.
    const left = Math.max(0, Math.floor(part.x * ratio));
    const top = Math.max(0, Math.floor(part.y * ratio));
    const right = Math.min(this.canvas.width, Math.ceil((part.x + part.width) * ratio));
    const bottom = Math.min(this.canvas.height, Math.ceil((part.y + part.height) * ratio));
    if (right <= left || bottom <= top) return;
    const { scale, offsetX, offsetY } = sight;
    const area = {
      x: (left / ratio - offsetX) / scale,
      y: (top / ratio - offsetY) / scale,
      width: (right - left) / ratio / scale,
      height: (bottom - top) / ratio / scale,
    };
    context.save();
    context.setTransform(1, 0, 0, 1, 0, 0);
    context.beginPath();
    context.rect(left, top, right - left, bottom - top);
    context.clip();
    context.clearRect(left, top, right - left, bottom - top);
    useUnits(context, sight, ratio);
    const pen = { context, scale, inks, area };
    for (const item of this.#items)
      if (overlap(grown(item.box, item.reach / scale), area)) item.paint(pen);
    context.restore();
  }
}

/** Gives a canvas as many dots as the screen has there; how many there are in a pixel of the page. */
export function fitCanvas(canvas: HTMLCanvasElement, { width, height }: Sight): number {
  const ratio = window.devicePixelRatio;
  const [across, down] = [Math.round(width * ratio), Math.round(height * ratio)];
  if (canvas.width !== across) canvas.width = across;
  if (canvas.height !== down) canvas.height = down;
  return ratio;
}

/** Lets a context draw in the board's units. */
export function useUnits(
  context: CanvasRenderingContext2D,
  { scale, offsetX, offsetY }: Sight,
  ratio: number,
): void {
  context.setTransform(ratio * scale, 0, 0, ratio * scale, ratio * offsetX, ratio * offsetY);
}

function placeOnScreen({ box, reach }: Item, { scale, offsetX, offsetY }: Sight): Box {
  return grown(
    {
      x: box.x * scale + offsetX,
      y: box.y * scale + offsetY,
      width: box.width * scale,
      height: box.height * scale,
    },
    reach + 1,
  );
}

const sameSight = (p: Sight, q: Sight): boolean =>
  p.width === q.width &&
  p.height === q.height &&
  p.scale === q.scale &&
  p.offsetX === q.offsetX &&
  p.offsetY === q.offsetY;
