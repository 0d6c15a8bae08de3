import type { TrainView } from '@blockbell/contract/messages';
import { headingOf } from '@blockbell/railway';
import type { Layout, Route } from '@blockbell/railway';

type PathItem = TrainView['path'][number];

/** The heading of a block on a train's way, in its direction of travel; −1 for anything else. */
export const headingOn = (layout: Layout, item: PathItem | undefined): number =>
  item && layout.elements[item.element]?.kind === 'block'
    ? headingOf(item.element, item.to === 'b' ? 'b' : 'a')
    : -1;

/** Whether a train with its head at `head`, path mm, holds anything beyond the element under its head. */
export const holdsAhead = ({ path }: TrainView, head: number): boolean =>
  (path.at(-1)?.start ?? head) > head;

/** A way from a train's end: its length in mm, and the elements on it; null once it passes one of them twice. */
interface Way {
  readonly length: number;
  readonly passed: ReadonlySet<number> | null;
}

/**
 * The blocks that a route can be set to from where a train's way ends, nearest first: those whose shortest way passes
 * nothing twice. Whether the way is free is the engine's to say.
 */
export function blocksAhead(layout: Layout, from: number): readonly number[] {
  const open = new Map<number, Way>([[from, { length: 0, passed: new Set() }]]);
  const done = new Set<number>();
  const found = new Map<number, boolean>();
  for (let at = nearest(open); at !== null; at = nearest(open)) {
    const [heading, way] = at;
    open.delete(heading);
    done.add(heading);
    const block = Math.floor(heading / 2);
    if (heading !== from && !found.has(block)) found.set(block, way.passed !== null);
    for (const index of layout.routesFrom[heading] ?? []) {
      const route = layout.routes[index];
      if (!route || done.has(route.to)) continue;
      const next = along(way, route);
      if (next.length < (open.get(route.to)?.length ?? Infinity)) open.set(route.to, next);
    }
  }
  return [...found].filter(([, once]) => once).map(([block]) => block);
}

function nearest(open: ReadonlyMap<number, Way>): readonly [number, Way] | null {
  let best: readonly [number, Way] | null = null;
  for (const entry of open) if (best === null || entry[1].length < best[1].length) best = entry;
  return best;
}

function along({ length, passed }: Way, route: Route): Way {
  const elements = [...(passed ?? []), ...route.steps.map(({ element }) => element)];
  const all = new Set(elements);
  return {
    length: length + route.length,
    passed: passed !== null && all.size === elements.length ? all : null,
  };
}
