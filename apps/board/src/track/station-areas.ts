import { boxAround } from './box.js';
import type { Box } from './box.js';
import type { BlockShape, Diagram } from './diagram.js';
import { pointAt } from './line.js';
import type { Point } from './line.js';

/** The part of a station that lies on one level. */
export interface StationArea {
  readonly station: number;
  readonly name: string;
  readonly area: Box;
}

/** A station is named once on each level that it has track on. */
export function stationsOnLevels(diagram: Diagram): readonly StationArea[] {
  const shapes = shapesByBlock(diagram);
  return diagram.layout.stations.flatMap(({ index, file, tracks }) => {
    const drawn = tracks
      .flatMap(({ blocks }) => blocks)
      .flatMap((block) => shapes.get(block) ?? []);
    const levels = [...new Set(drawn.map(({ element }) => element.level))];
    return levels.flatMap((level) => {
      const area = boxAround(
        drawn.filter(({ element }) => element.level === level).flatMap(({ line }) => line.points),
      );
      return area ? [{ station: index, name: file.name, area }] : [];
    });
  });
}

/** A platform: a slab along a track, on the side where the station's other platform tracks lie. */
export interface PlatformShape {
  readonly key: string;
  readonly middle: Point;
  readonly angle: number;
  readonly length: number;
}

/** Distance of a platform's middle from its track, and the part of the track it lies along. */
const OFFSET = 0.62;
const SHARE = 0.72;

export function platformsOf(diagram: Diagram): readonly PlatformShape[] {
  const shapes = shapesByBlock(diagram);
  return diagram.layout.stations.flatMap(({ index, tracks }) => {
    const alongside = tracks
      .filter(({ platform }) => platform)
      .flatMap(({ blocks }) => blocks)
      .flatMap((block) => shapes.get(block) ?? []);
    const box = boxAround(alongside.flatMap(({ line }) => line.points));
    if (!box) return [];
    const centre = box.y + box.height / 2;
    return alongside.map(({ element, line }) => {
      const { point, angle } = pointAt(line, 0.5);
      const side = point[1] < centre || box.height === 0 ? 1 : -1;
      return {
        key: `${index}:${element.index}`,
        middle: [
          point[0] - Math.sin(angle) * OFFSET * side,
          point[1] + Math.cos(angle) * OFFSET * side,
        ],
        angle,
        length: line.length * SHARE,
      } satisfies PlatformShape;
    });
  });
}

/** The drawn blocks by their element. */
export const shapesByBlock = (diagram: Diagram): ReadonlyMap<number, BlockShape> =>
  new Map(diagram.blocks.map((shape) => [shape.element.index, shape]));
