import type { Layout } from '@blockbell/railway';
import { boxAround } from './box.js';
import type { Point } from './line.js';

/** How far apart neighbouring tracks lie, in multiples of how far turnout legs end apart. */
const TRACKS_PER_LEGS = 1.25;
/** How many tracks would lie beside one another in a drawing without turnouts. */
const TRACKS_ACROSS = 60;

/**
 * How many of the file's drawing units the board takes as one of its own: about the distance between neighbouring
 * tracks. Builders draw as large as they like; margins, platforms and bands follow the track, not the file's units.
 */
export function drawingUnit(layout: Layout): number {
  const apart = layout.elements
    .flatMap(({ file }) => {
      const one = file?.draw?.ports['straight'];
      const other = file?.draw?.ports['diverging'];
      return one && other ? [Math.hypot(one[0] - other[0], one[1] - other[1])] : [];
    })
    .filter((distance) => distance > 0)
    .toSorted((p, q) => p - q);
  const median = apart[Math.floor(apart.length / 2)];
  if (median !== undefined) return median * TRACKS_PER_LEGS;
  const box = boxAround(layout.elements.flatMap(({ file }) => drawnPoints(file?.draw)));
  return Math.max(box?.width ?? 0, box?.height ?? 0) / TRACKS_ACROSS || 1;
}

/** Every point that a drawing names. */
export const drawnPoints = (
  draw:
    | { readonly ports: Readonly<Record<string, Point>>; readonly via?: readonly Point[] }
    | undefined,
): readonly Point[] => (draw ? [...Object.values(draw.ports), ...(draw.via ?? [])] : []);
