import type { Heading, Layout, RouteIndex, Step } from '../layout/layout.js';
import type { PathItem } from '../session/state.js';

/** A stretch seen by one detector (or none, −1) at its place along a train's path, in mm. */
export interface PlacedPiece {
  readonly section: number;
  readonly start: number;
  readonly end: number;
  /** Index into the path. */
  readonly item: number;
}

/** The compiled step behind a path item. */
export function stepOf(layout: Layout, item: PathItem): Step {
  return item.route < 0
    ? layout.blockSteps[item.heading]!
    : layout.routes[item.route]!.steps[item.step]!;
}

/** The path of a train that stands in one block. */
export function pathInBlock(layout: Layout, heading: Heading): PathItem[] {
  const step = layout.blockSteps[heading]!;
  return [
    {
      element: step.element,
      route: -1,
      step: 0,
      heading,
      start: 0,
      end: step.leg.length,
      releaseAt: step.leg.length,
    },
  ];
}

/** The items a route adds behind `start` mm. */
export function routeItems(layout: Layout, route: RouteIndex, start: number): PathItem[] {
  const { steps, to } = layout.routes[route]!;
  const items: PathItem[] = [];
  let at = start;
  steps.forEach((step, index) => {
    const end = at + step.leg.length;
    items.push({
      element: step.element,
      route,
      step: index,
      heading: index === steps.length - 1 ? to : -1,
      start: at,
      end,
      releaseAt: end + step.leg.foulingBeyondTo,
    });
    at = end;
  });
  return items;
}

/** Every detected and undetected stretch of a path from its rear to its front. */
export function piecesOf(layout: Layout, path: readonly PathItem[]): PlacedPiece[] {
  const pieces: PlacedPiece[] = [];
  path.forEach((item, index) => {
    let start = item.start;
    for (const piece of stepOf(layout, item).pieces) {
      const end = start + piece.length;
      pieces.push({ section: piece.section, start, end, item: index });
      start = end;
    }
  });
  return pieces;
}

export const pathEnd = (path: readonly PathItem[]): number => path[path.length - 1]?.end ?? 0;

/** The heading of the last block of a path. */
export const lastHeading = (path: readonly PathItem[]): Heading =>
  path[path.length - 1]?.heading ?? -1;
