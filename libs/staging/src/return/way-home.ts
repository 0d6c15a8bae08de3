import { blockOf, endAhead, opposite, type Heading, type Layout } from '@blockbell/railway';

/** Where a train is to stand: a block, and the end of it that its front looks to. */
export interface Home {
  readonly block: number;
  readonly towards: 'a' | 'b';
}

export const homeOf = (heading: Heading): Home => ({
  block: blockOf(heading),
  towards: endAhead(heading),
});

/** Whether a train that stands at a heading, with its front or its rear leading, stands as it is to. */
export const standsAtHome = (home: Home, heading: Heading, frontLeads: boolean): boolean =>
  blockOf(heading) === home.block &&
  endAhead(frontLeads ? heading : opposite(heading)) === home.towards;

/**
 * By heading and which end leads, as `heading * 2 + (frontLeads ? 1 : 0)`: the least number of runs to the home over empty track,
 * each without a stop and, for a train that may, after a change of direction; Infinity: no way leads there. How long the train is, and that it
 * can't pass over its own rear, isn't looked at, so there are never fewer.
 */
export function leastRuns(layout: Layout, home: Home, canReverse: boolean): readonly number[] {
  const runs = layout.blockSteps.flatMap((_, heading) => [
    standsAtHome(home, heading, false) ? 0 : Infinity,
    standsAtHome(home, heading, true) ? 0 : Infinity,
  ]);
  let last = runs.flatMap((count, place) => (count === 0 ? [place] : []));
  for (let count = 1; last.length > 0; count++) {
    const next: number[] = [];
    const reach = (place: number): void => {
      if (runs[place]! < Infinity) return;
      runs[place] = count;
      next.push(place);
    };
    const seen = new Set<number>();
    const open = last.slice();
    for (let place = open.pop(); place !== undefined; place = open.pop()) {
      for (const route of layout.routesInto[place >> 1] ?? []) {
        const before = layout.routes[route]!.from * 2 + (place & 1);
        if (seen.has(before)) continue;
        seen.add(before);
        open.push(before);
        reach(before);
        if (canReverse) reach(turned(before));
      }
    }
    last = next;
  }
  return runs;
}

/** The same rest after a change of direction: the other way along the block, the other end leading. */
const turned = (place: number): number => place ^ 3;
