import type { TrainView } from '@blockbell/contract/messages';
import { headingOf } from '@blockbell/railway';
import type { Layout } from '@blockbell/railway';

type PathItem = TrainView['path'][number];

/** The heading of a block on a train's way, in its direction of travel; −1 for anything else. */
export const headingOn = (layout: Layout, item: PathItem | undefined): number =>
  item && layout.elements[item.element]?.kind === 'block'
    ? headingOf(item.element, item.to === 'b' ? 'b' : 'a')
    : -1;

/** Whether a train with its head at `head`, path mm, holds anything beyond the element under its head. */
export const holdsAhead = ({ path }: TrainView, head: number): boolean =>
  (path.at(-1)?.start ?? head) > head;

/** The blocks that routes lead on to from where a train's way ends, the nearest by number of routes first. */
export function blocksAhead(layout: Layout, { path }: TrainView): readonly number[] {
  const start = headingOn(layout, path.at(-1));
  const reached = new Set<number>();
  let edge = [start];
  while (edge.length > 0) {
    const next = edge.flatMap((heading) =>
      (layout.routesFrom[heading] ?? []).flatMap((route) => layout.routes[route]?.to ?? []),
    );
    edge = [...new Set(next)].filter((heading) => !reached.has(heading));
    for (const heading of edge) reached.add(heading);
  }
  return [...new Set([...reached].map((heading) => Math.floor(heading / 2)))];
}
