import type { Diagram } from './diagram.js';
import type { LampSpot } from './lamp-spots.js';
import type { Point } from './line.js';

/** A block or turnout that a pointer means. */
export interface FoundTrack {
  readonly element: number;
  readonly name: string;
}

interface Stretch extends FoundTrack {
  readonly from: Point;
  readonly to: Point;
}

/** How far beside track a mouse and a finger may be, pixels. */
const MOUSE_REACH = 8;
const FINGER_REACH = 16;
/** So near to a turnout, it is meant even where a block is nearer, pixels. */
const JUNCTION_REACH = 4;
const LAMP_REACH = 8;

/** Finds what lies under a pointer by where it is drawn. */
export class TrackFinder {
  readonly #blocks: readonly Stretch[];
  readonly #junctions: readonly Stretch[];

  constructor({ blocks, junctions }: Diagram) {
    this.#blocks = blocks.flatMap(({ element: { index }, name, line }) =>
      stretchesOf({ element: index, name }, line.points),
    );
    this.#junctions = junctions.flatMap(({ element: { index, id }, legs }) =>
      legs.flatMap(({ line }) => stretchesOf({ element: index, name: id }, line.points)),
    );
  }

  /** The nearest track to a point of the drawing, at `scale` pixels per unit; null where none is meant. */
  at(point: Point, scale: number, finger: boolean): FoundTrack | null {
    const reach = (finger ? FINGER_REACH : MOUSE_REACH) / scale;
    const junction = nearest(this.#junctions, point, reach);
    if (junction && junction.distance <= JUNCTION_REACH / scale) return junction.stretch;
    const block = nearest(this.#blocks, point, reach);
    if (junction && block) return (junction.distance <= block.distance ? junction : block).stretch;
    return (junction ?? block)?.stretch ?? null;
  }
}

/** The signal under a point, both in pixels from the drawing's origin. */
export const lampAt = (lamps: readonly LampSpot[], [x, y]: Point): LampSpot | null =>
  lamps.find(({ at }) => Math.hypot(at[0] - x, at[1] - y) <= LAMP_REACH) ?? null;

const stretchesOf = (found: FoundTrack, points: readonly Point[]): readonly Stretch[] =>
  points.slice(1).map((to, index) => ({ ...found, from: points[index] ?? to, to }));

function nearest(
  stretches: readonly Stretch[],
  point: Point,
  reach: number,
): { readonly stretch: Stretch; readonly distance: number } | null {
  let found: Stretch | null = null;
  let least = reach;
  for (const stretch of stretches) {
    const distance = distanceTo(stretch, point);
    if (distance > least) continue;
    found = stretch;
    least = distance;
  }
  return found && { stretch: found, distance: least };
}

function distanceTo({ from, to }: Stretch, [x, y]: Point): number {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const length = dx * dx + dy * dy;
  const along = length === 0 ? 0 : ((x - from[0]) * dx + (y - from[1]) * dy) / length;
  const share = Math.min(1, Math.max(0, along));
  return Math.hypot(from[0] + dx * share - x, from[1] + dy * share - y);
}
