import {
  blockOf,
  opposite,
  trackText,
  yardTracks,
  type Layout,
  type NamedTrack,
  type Route,
  type StationIndex,
  type TrackEnd,
} from '@blockbell/railway';

/** What the ends a and b of a track are called, by what lies there. */
export type EndWords = readonly [string, string];

/** How many things at an end are named; of more, how many others there are. */
const NAMED = 3;

/** A way out of a track, or into it. */
interface Way {
  readonly route: Route;
  readonly leaves: boolean;
}

/** What is said of a way: what lies beyond the end where it passes. */
type Say = (layout: Layout, station: StationIndex, way: Way) => string;

/** What the ends of the tracks of a yard are called. */
export interface YardEnds {
  /** As most of them have it. */
  readonly usual: EndWords;
  /** Of each track, in their order; null: as usual. */
  readonly tracks: readonly (EndWords | null)[];
}

export function yardEnds(layout: Layout, station: StationIndex): YardEnds {
  const words = yardTracks(layout, station).map((track) => wordsOfTrack(layout, station, track));
  const count = new Map<string, number>();
  for (const ends of words) count.set(keyOf(ends), (count.get(keyOf(ends)) ?? 0) + 1);
  const most = Math.max(...count.values());
  const usual = words.find((ends) => count.get(keyOf(ends)) === most)!;
  return { usual, tracks: words.map((ends) => (keyOf(ends) === keyOf(usual) ? null : ends)) };
}

const keyOf = (ends: EndWords): string => ends.join('\n');

/** By what lies beyond its ends; where that is the same, by the legs of the turnouts there; else by the letters of the file. */
function wordsOfTrack(layout: Layout, station: StationIndex, track: NamedTrack): EndWords {
  for (const say of [byBlock, byTurnout]) {
    const [a, b] = (['a', 'b'] as const).map((end) =>
      listed(waysAt(layout, track, end).map((way) => say(layout, station, way))),
    ) as [string, string];
    if (a !== b) return [a, b];
  }
  return ['its end a', 'its end b'];
}

/** The station beyond, or the block in words. */
const byBlock: Say = (layout, station, { route, leaves }) => {
  const block = blockOf(leaves ? route.to : route.from);
  const other = layout.stations.find(({ tracks }) =>
    tracks.some((it) => it.blocks.includes(block)),
  );
  return other === undefined || other.index === station
    ? trackText(layout, block)
    : other.file.name;
};

/** The leg of the first turnout beyond, or the block. */
const byTurnout: Say = (layout, station, { route, leaves }) => {
  const step = leaves ? route.steps[0]! : route.steps.at(-2);
  if (step === undefined || step.leg.position === null)
    return byBlock(layout, station, { route, leaves });
  return `${trackText(layout, step.element)} ${step.leg.position}`;
};

/** All ways out of a track and into it at one of its ends. */
function waysAt(
  { routes, routesFrom, routesInto }: Layout,
  { blocks, ends }: NamedTrack,
  end: TrackEnd,
): readonly Way[] {
  const headings = [...ends].flatMap(([heading, its]) => (its === end ? [heading] : []));
  return headings.flatMap((heading) => [
    ...routesFrom[heading]!.flatMap((index): Way[] => {
      const route = routes[index]!;
      return blocks.includes(blockOf(route.to)) ? [] : [{ route, leaves: true }];
    }),
    ...routesInto[opposite(heading)]!.flatMap((index): Way[] => {
      const route = routes[index]!;
      return blocks.includes(blockOf(route.from)) ? [] : [{ route, leaves: false }];
    }),
  ]);
}

/** `block U11 or block U14`; nothing leads on from a dead end. */
function listed(said: readonly string[]): string {
  const names = [...new Set(said)];
  if (names.length === 0) return 'the dead end';
  if (names.length > NAMED)
    return `${names.slice(0, NAMED - 1).join(', ')} and ${names.length - NAMED + 1} others`;
  return [names.slice(0, -1).join(', '), names.at(-1)!].filter((it) => it !== '').join(' or ');
}
