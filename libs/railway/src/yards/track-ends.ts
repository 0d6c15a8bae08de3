import {
  blockOf,
  endAhead,
  headingOf,
  opposite,
  type ElementIndex,
  type Heading,
  type Layout,
} from '../layout/layout.js';

/** An end of a track of a yard. */
export type TrackEnd = 'a' | 'b';

/** A track of a station with a direction through all its blocks, `b` being the end that the first block's `b` looks to. */
export interface DirectedTrack {
  readonly blocks: readonly ElementIndex[];
  /** By heading of its blocks: the end of the track that it looks to. */
  readonly ends: ReadonlyMap<Heading, TrackEnd>;
}

export const otherEnd = (end: TrackEnd): TrackEnd => (end === 'a' ? 'b' : 'a');

/** Gives every heading in a track the end that it looks to. A block that no plain track joins to the others counts as its own. */
export function directed(layout: Layout, blocks: readonly ElementIndex[]): DirectedTrack {
  const ends = new Map<Heading, TrackEnd>();
  const look = (heading: Heading, end: TrackEnd): void => {
    if (ends.has(heading)) return;
    ends.set(heading, end);
    look(opposite(heading), otherEnd(end));
    for (const index of layout.routesFrom[heading] ?? []) {
      const { to, steps } = layout.routes[index]!;
      if (steps.length === 1 && blocks.includes(blockOf(to))) look(to, end);
    }
  };
  for (const block of blocks) {
    const heading = headingOf(block, 'b');
    look(heading, endAhead(heading));
  }
  return { blocks, ends };
}

/** The headings that look to an end of a track, the one nearest to that end first. */
export function headingsTo(layout: Layout, track: DirectedTrack, end: TrackEnd): Heading[] {
  const all = [...track.ends].flatMap(([heading, its]) => (its === end ? [heading] : []));
  const next = (heading: Heading): Heading | undefined =>
    (layout.routesFrom[heading] ?? [])
      .map((index) => layout.routes[index]!)
      .find(({ to, steps }) => steps.length === 1 && all.includes(to))?.to;
  const depth = (heading: Heading): number => {
    const on = next(heading);
    return on === undefined ? 0 : 1 + depth(on);
  };
  return all.sort((a, b) => depth(a) - depth(b) || a - b);
}
