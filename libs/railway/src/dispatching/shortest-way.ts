import {
  blockOf,
  type ElementIndex,
  type Heading,
  type Layout,
  type RouteIndex,
} from '../layout/layout.js';

/**
 * The shortest way over routes from a heading's end into a block, from either side; null if none leads there. No block
 * and no turnout is passed twice.
 */
export function shortestWay(
  layout: Layout,
  from: Heading,
  block: ElementIndex,
): RouteIndex[] | null {
  const distance = new Map<Heading, number>([[from, 0]]);
  const cameBy = new Map<Heading, RouteIndex>();
  const open = new Set<Heading>([from]);
  for (;;) {
    const heading = nearest(open, distance);
    if (heading === null) return null;
    open.delete(heading);
    if (heading !== from && blockOf(heading) === block) {
      const way = wayTo(layout, cameBy, from, heading);
      return passesTwice(layout, way) ? null : way;
    }
    for (const index of layout.routesFrom[heading] ?? []) {
      const { to, length } = layout.routes[index]!;
      const reached = distance.get(heading)! + length;
      if (reached >= (distance.get(to) ?? Infinity)) continue;
      distance.set(to, reached);
      cameBy.set(to, index);
      open.add(to);
    }
  }
}

function nearest(
  open: ReadonlySet<Heading>,
  distance: ReadonlyMap<Heading, number>,
): Heading | null {
  let best: Heading | null = null;
  for (const heading of open) {
    if (best === null || distance.get(heading)! < distance.get(best)!) best = heading;
  }
  return best;
}

function wayTo(
  layout: Layout,
  cameBy: ReadonlyMap<Heading, RouteIndex>,
  from: Heading,
  to: Heading,
): RouteIndex[] {
  const way: RouteIndex[] = [];
  for (let at = to; at !== from; at = layout.routes[way[0]!]!.from) way.unshift(cameBy.get(at)!);
  return way;
}

function passesTwice(layout: Layout, way: readonly RouteIndex[]): boolean {
  const elements = way.flatMap((route) =>
    layout.routes[route]!.steps.map(({ element }) => element),
  );
  return new Set(elements).size < elements.length;
}
