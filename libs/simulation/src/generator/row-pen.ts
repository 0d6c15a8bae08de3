import type { Point } from '@blockbell/railway/track';

/** Distance between parallel tracks, and the size of a turnout, in drawing units. */
export const LANE = 24;
/** Lanes above and below the line that a row keeps free. */
const LANES_ABOVE = 1;
const LANES_BELOW = 3;
export const ROW_HEIGHT = (LANES_ABOVE + LANES_BELOW + 2) * LANE;
const MARGIN = 40;

/** Where one lane of a stretch runs. */
export interface Way {
  readonly from: Point;
  readonly to: Point;
  readonly via?: readonly Point[];
}

/**
 * Turns places along the line into points of the drawing. The line runs in rows, to and fro: every other row is
 * the row before turned by half a circle, so that what lies to the right of the line always does.
 */
export class RowPen {
  readonly #width: number;
  readonly #top: number;
  #row = 0;
  #along = 0;

  constructor(width: number, top: number) {
    this.#width = width;
    this.#top = top;
  }

  /** How far along the row the line has come. */
  get along(): number {
    return this.#along;
  }

  advance(distance: number): void {
    this.#along += distance;
  }

  /** Whether something this long still fits in the row. */
  fits(length: number): boolean {
    return this.#along + length <= this.#width;
  }

  /** The point at a distance along the row, on a lane to the right of the line (negative: to its left). */
  point(along: number, lane: number): Point {
    const turned = this.#row % 2 === 1;
    const across = lane * LANE;
    const top = this.#top + this.#row * ROW_HEIGHT;
    return turned
      ? [this.#width - along, top + LANES_BELOW * LANE - across]
      : [along, top + LANES_ABOVE * LANE + across];
  }

  /** Goes on along the row. */
  straight(lanes: number, length: number): readonly Way[] {
    const start = this.#along;
    this.#along += length;
    return Array.from({ length: lanes }, (_, lane) => ({
      from: this.point(start, lane),
      to: this.point(this.#along, lane),
    }));
  }

  /** Goes round to the start of the next row. */
  turn(lanes: number): readonly Way[] {
    const leaving = Array.from({ length: lanes }, (_, lane) => this.point(this.#along, lane));
    const rightwards = this.#row % 2 === 0;
    this.#row += 1;
    this.#along = 0;
    return leaving.map((from, lane) => {
      const to = this.point(0, lane);
      // On the right the line's left side is outside, on the left its right side.
      const outside = MARGIN + LANE * (rightwards ? lanes - 1 - lane : lane);
      const edge = rightwards ? this.#width + outside : -outside;
      const inward = rightwards ? edge - LANE : edge + LANE;
      return {
        from,
        via: [
          [inward, from[1]],
          [edge, from[1] + LANE],
          [edge, to[1] - LANE],
          [inward, to[1]],
        ],
        to,
      };
    });
  }
}
