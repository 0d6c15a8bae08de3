import { grown, overlap } from './box.js';
import type { Box } from './box.js';
import type { Inks } from './inks.svelte.js';
import type { Shows } from './item-watch.js';
import { merged, PlaceIndex } from './places.js';

/** What a painter paints with. The context's units are the board's; widths on screen are divided by `scale`. */
export interface Pen {
  readonly context: OffscreenCanvasRenderingContext2D;
  /** Pixels in one of the board's units. */
  readonly scale: number;
  readonly inks: Inks;
  /** What of the drawing is seen, and how many dots of the screen are in a pixel. */
  readonly sight: Sight;
  readonly ratio: number;
  /** The part that is painted, in the board's units: nothing outside needs to be. */
  readonly area: Box;
}

/** Something that stands on the track picture. */
export interface Item {
  /** Where it lies, in the board's units. */
  readonly box: Box;
  /** How many pixels its lines and marks reach beyond the box. */
  readonly reach: number;
  /** By which rows it looks as it does. */
  readonly shows?: Shows;
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
  #looks: string[] = [];
  #sight: Sight | null = null;
  #inks: Inks | null = null;
  #index: PlaceIndex | null = null;
  /** The farthest that any item reaches beyond its box, pixels. */
  #reach = 0;

  readonly canvas: OffscreenCanvas;

  constructor(canvas: HTMLCanvasElement) {
    this.canvas = surfaceOf(canvas);
  }

  /** Paints everything. */
  show(items: readonly Item[], sight: Sight, inks: Inks): void {
    if (items !== this.#items) {
      this.#items = items;
      this.#index = null;
      this.#reach = items.reduce((most, { reach }) => Math.max(most, reach), 0);
    }
    this.#looks = items.map(({ look }) => look?.() ?? '');
    this.#sight = sight;
    this.#inks = inks;
    this.#paint(inks, sight, null);
  }

  /** Looks at some items again, by their index, and paints where they look different. */
  lookAgain(indexes: Iterable<number>): void {
    const [sight, inks] = [this.#sight, this.#inks];
    if (!sight || !inks) return;
    const places: Box[] = [];
    for (const index of indexes) {
      const item = this.#items[index];
      const look = item?.look?.() ?? '';
      if (!item || look === this.#looks[index]) continue;
      this.#looks[index] = look;
      places.push(placeOnScreen(item.box, item.reach + 1, sight));
    }
    if (places.length > MOST_PLACES) this.#paint(inks, sight, null);
    else for (const place of merged(places)) this.#paint(inks, sight, place);
  }

  /** Paints what lies in a part of the screen; null: in all of it. */
  #paint(inks: Inks, sight: Sight, part: Box | null): void {
    const pen = beginPart(this.canvas, sight, inks, part ?? wholeOf(sight));
    if (!pen) return;
    const { area, context } = pen;
    for (const item of part === null ? this.#items : this.#itemsNear(area, sight))
      if (overlap(grown(item.box, item.reach / sight.scale), area)) item.paint(pen);
    context.restore();
  }

  /** Those that may reach into an area, in the order in which they lie over one another. */
  #itemsNear(area: Box, sight: Sight): readonly Item[] {
    this.#index ??= new PlaceIndex(this.#items.map(({ box }) => box));
    const indexes = this.#index.within(grown(area, this.#reach / sight.scale));
    return indexes.flatMap((index) => this.#items[index] ?? []);
  }
}

/**
 * Clears a part of a canvas and gives a pen that paints there only, until its context is restored; all of the canvas where it had
 * to be made anew, as on a screen with smaller dots. Null when the part lies outside.
 */
export function beginPart(
  canvas: OffscreenCanvas,
  sight: Sight,
  inks: Inks,
  part: Box,
): Pen | null {
  const ratio = window.devicePixelRatio;
  const isEmpty = fitCanvas(canvas, sight, ratio);
  const context = canvas.getContext('2d');
  if (!context) return null;
  const { x, y, width, height } = isEmpty ? wholeOf(sight) : part;
  // Whole dots of the screen, so that no seam is left where parts meet.
  const left = Math.max(0, Math.floor(x * ratio));
  const top = Math.max(0, Math.floor(y * ratio));
  const right = Math.min(canvas.width, Math.ceil((x + width) * ratio));
  const bottom = Math.min(canvas.height, Math.ceil((y + height) * ratio));
  if (right <= left || bottom <= top) return null;
  context.save();
  context.setTransform(1, 0, 0, 1, 0, 0);
  context.beginPath();
  context.rect(left, top, right - left, bottom - top);
  context.clip();
  context.clearRect(left, top, right - left, bottom - top);
  showAs(context, sight, ratio);
  const { scale, offsetX, offsetY } = sight;
  const area = {
    x: (left / ratio - offsetX) / scale,
    y: (top / ratio - offsetY) / scale,
    width: (right - left) / ratio / scale,
    height: (bottom - top) / ratio / scale,
  };
  return { context, scale, inks, sight, ratio, area };
}

/** From now on the context's units are the board's, where they are seen. */
export function showAs(
  context: OffscreenCanvasRenderingContext2D,
  { scale, offsetX, offsetY }: Sight,
  ratio: number,
): void {
  context.setTransform(ratio * scale, 0, 0, ratio * scale, ratio * offsetX, ratio * offsetY);
}

/** Gives a canvas as many dots as the screen has there, `ratio` in a pixel of the page; whether it is empty after that. */
function fitCanvas(canvas: OffscreenCanvas, { width, height }: Sight, ratio: number): boolean {
  const [across, down] = [Math.round(width * ratio), Math.round(height * ratio)];
  if (canvas.width === across && canvas.height === down) return false;
  canvas.width = across;
  canvas.height = down;
  return true;
}

/** All that is seen, in pixels. */
export const wholeOf = ({ width, height }: Sight): Box => ({ x: 0, y: 0, width, height });

/** Where a box lies on the canvas, with `reach` pixels around it. */
export function placeOnScreen(box: Box, reach: number, sight: Sight): Box {
  const { scale, offsetX, offsetY } = sight;
  return grown(
    {
      x: box.x * scale + offsetX,
      y: box.y * scale + offsetY,
      width: box.width * scale,
      height: box.height * scale,
    },
    reach,
  );
}

const surfaces = new WeakMap<HTMLCanvasElement, OffscreenCanvas>();

/**
 * What is painted on in place of a canvas of the page: its dots are copied for the screen only after it was painted on, those of a
 * canvas of the page with every picture.
 */
export function surfaceOf(canvas: HTMLCanvasElement): OffscreenCanvas {
  const found = surfaces.get(canvas) ?? canvas.transferControlToOffscreen();
  surfaces.set(canvas, found);
  return found;
}
