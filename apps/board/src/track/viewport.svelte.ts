import type { Box } from './box.js';
import type { Point } from './line.js';
import { NAME_MARGIN } from './name-margin.js';

/** Pixels per drawing unit, at least and at most. */
const LEAST_SCALE = 2;
const MOST_SCALE = 80;
/** Pixels of the drawing that always stay in sight. */
const KEPT_IN_SIGHT = 80;

/** Which part of the drawing is seen: screen = drawing × scale + offset. */
export class Viewport {
  width = $state(0);
  height = $state(0);
  scale = $state(12);
  offsetX = $state(0);
  offsetY = $state(0);
  /** Whether the whole drawing is kept in view when the panel changes its size. */
  fitted = $state(true);

  constructor(readonly drawing: Box) {}

  /** The part of the drawing that is seen, in screen pixels from the drawing's origin. */
  get sight(): Box {
    return { x: -this.offsetX, y: -this.offsetY, width: this.width, height: this.height };
  }

  /** The panel has a new size. */
  resize(width: number, height: number): void {
    this.width = width;
    this.height = height;
    if (this.fitted) this.fit();
  }

  fit(): void {
    const { x, y, width, height } = this.drawing;
    if (this.width === 0 || this.height === 0) return;
    const scale = Math.min(this.width / width, (this.height - 2 * NAME_MARGIN) / height);
    this.scale = Math.min(MOST_SCALE, Math.max(LEAST_SCALE, scale));
    this.offsetX = (this.width - width * this.scale) / 2 - x * this.scale;
    this.offsetY = (this.height - height * this.scale) / 2 - y * this.scale;
    this.fitted = true;
  }

  /** Magnifies by `factor`; what lies under the given place of the panel stays under it. */
  zoom(factor: number, at: Point = [this.width / 2, this.height / 2]): void {
    const scale = Math.min(MOST_SCALE, Math.max(LEAST_SCALE, this.scale * factor));
    const ratio = scale / this.scale;
    this.offsetX = at[0] - (at[0] - this.offsetX) * ratio;
    this.offsetY = at[1] - (at[1] - this.offsetY) * ratio;
    this.scale = scale;
    this.#keepInSight();
  }

  pan(dx: number, dy: number): void {
    this.offsetX += dx;
    this.offsetY += dy;
    this.#keepInSight();
  }

  /** Brings a point of the drawing to the middle; a drawing that is in view as a whole stays so. */
  centre([x, y]: Point): void {
    if (this.fitted) return;
    this.offsetX = this.width / 2 - x * this.scale;
    this.offsetY = this.height / 2 - y * this.scale;
    this.#keepInSight();
  }

  #keepInSight(): void {
    this.fitted = false;
    const { x, y, width, height } = this.drawing;
    const within = (offset: number, near: number, far: number, room: number): number =>
      Math.min(
        room - KEPT_IN_SIGHT - near * this.scale,
        Math.max(KEPT_IN_SIGHT - far * this.scale, offset),
      );
    this.offsetX = within(this.offsetX, x, x + width, this.width);
    this.offsetY = within(this.offsetY, y, y + height, this.height);
  }
}
