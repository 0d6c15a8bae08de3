import type { Layout } from '@blockbell/railway';
import { boxAround, grown, overlap } from './box.js';
import type { Box } from './box.js';
import { drawnPoints } from './drawing-unit.js';
import type { Point } from './line.js';

/** Room between the outermost track of a level and the edge of its ground, in the board's units. */
const MARGIN = 2.2;
/** Room between two grounds that had to be moved apart. */
const GAP = 0.8;

/** What a level is drawn on, in the board's units. */
export interface Ground {
  readonly level: number;
  readonly name: string;
  readonly hidden: boolean;
  readonly box: Box;
}

export interface Grounds {
  readonly grounds: readonly Ground[];
  /** How far each level's points are moved down, by level, in the board's units. */
  readonly shifts: readonly number[];
}

/**
 * One ground for each level that has something drawn. Levels drawn one over the other, as the layout may
 * really be built, are moved apart in the order of the file; levels that the builder kept apart stay put. `unit`: file units in one of
 * the board's.
 */
export function layGrounds(layout: Layout, unit: number): Grounds {
  const points: Point[][] = layout.file.levels.map(() => []);
  for (const { file, level } of layout.elements)
    points[level]?.push(...drawnPoints(file?.draw).map(([x, y]) => [x / unit, y / unit] as const));
  const boxes = points.map((drawn) => {
    const box = boxAround(drawn);
    return box && grown(box, MARGIN);
  });
  const shifts = boxes.some(
    (box, at) => box && boxes.some((o, i) => i < at && o && overlap(o, box)),
  )
    ? stacked(boxes)
    : boxes.map(() => 0);
  const grounds = layout.file.levels.flatMap(({ name, hidden }, level) => {
    const box = boxes[level];
    return box ? [{ level, name, hidden, box: { ...box, y: box.y + (shifts[level] ?? 0) } }] : [];
  });
  return { grounds: alignedSides(grounds), shifts };
}

function stacked(boxes: readonly (Box | null)[]): readonly number[] {
  let bottom: number | null = null;
  return boxes.map((box) => {
    if (!box) return 0;
    const shift: number = bottom === null ? 0 : bottom + GAP - box.y;
    bottom = box.y + shift + box.height;
    return shift;
  });
}

/** Grounds that lie one below the other are made equally wide, so that they read as floors of one house. */
function alignedSides(grounds: readonly Ground[]): readonly Ground[] {
  const inColumns = grounds.some((ground, at) =>
    grounds.some(
      ({ box }, i) =>
        i < at && box.y < ground.box.y + ground.box.height && ground.box.y < box.y + box.height,
    ),
  );
  if (inColumns) return grounds;
  const left = Math.min(...grounds.map(({ box }) => box.x));
  const right = Math.max(...grounds.map(({ box }) => box.x + box.width));
  return grounds.map((ground) => ({
    ...ground,
    box: { ...ground.box, x: left, width: right - left },
  }));
}
