import { blockOf } from '@blockbell/railway';
import type { Diagram } from './diagram.js';
import { pointAt, reversed } from './line.js';
import type { Point } from './line.js';
import { scaled } from './name-labels.js';

/** Where the signal at the end ahead of a heading is drawn: screen pixels from the drawing's origin. */
export interface LampSpot {
  readonly heading: number;
  readonly name: string;
  readonly at: Point;
  /** Direction of travel towards it, radians. */
  readonly angle: number;
  /** Whether there is room for a letter: no other lamp stands close by. */
  readonly roomy: boolean;
}

/** Pixels from the block's end back to the lamp, and from the track aside to it. */
const BACK = 7;
const ASIDE = 11;
/** Least distance between two lamps with letters, pixels. */
const LETTER_ROOM = 17;

/** Each lamp stands just before the end of its block, to the right of the track. */
export function lampSpots(
  diagram: Diagram,
  headings: readonly number[],
  scale: number,
): readonly LampSpot[] {
  const shapes = new Map(diagram.blocks.map((shape) => [shape.element.index, shape]));
  const spots = headings.flatMap((heading) => {
    const shape = shapes.get(blockOf(heading));
    if (!shape) return [];
    const line = (heading & 1) === 0 ? shape.line : reversed(shape.line);
    const back = Math.min(0.3, BACK / Math.max(1, line.length * scale));
    const { point: before, angle } = pointAt(line, 1 - back);
    const point = scaled(before, scale);
    return [
      {
        heading,
        name: shape.name,
        at: [point[0] - Math.sin(angle) * ASIDE, point[1] + Math.cos(angle) * ASIDE] as const,
        angle,
      },
    ];
  });
  const crowded = crowdedOf(spots);
  return spots.map((spot) => ({ ...spot, roomy: !crowded.has(spot.heading) }));
}

/** Headings whose lamp has another too close by. */
function crowdedOf(spots: readonly Omit<LampSpot, 'roomy'>[]): ReadonlySet<number> {
  const crowded = new Set<number>();
  const byX = spots.toSorted((p, q) => p.at[0] - q.at[0]);
  byX.forEach((spot, index) => {
    for (let next = index + 1; next < byX.length; next++) {
      const other = byX[next];
      if (!other || other.at[0] - spot.at[0] >= LETTER_ROOM) break;
      if (Math.hypot(other.at[0] - spot.at[0], other.at[1] - spot.at[1]) < LETTER_ROOM)
        crowded.add(spot.heading).add(other.heading);
    }
  });
  return crowded;
}
