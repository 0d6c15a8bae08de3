import { nextBetween, type RandomStream } from '../random.js';

/**
 * A station of the plan. `end`: tracks that stop at buffers or lead into a balloon loop. `throat`: a ladder at
 * each side, so that every track meets every line. `wayside`: two one-way tracks each way, where no train turns.
 */
export interface StationPlan {
  readonly kind: 'end' | 'throat' | 'wayside';
  readonly tracks: number;
  readonly trackLength: number;
  /** Sections in each track. */
  readonly pieces: number;
  readonly balloon: boolean;
  readonly hidden: boolean;
}

/** The line to the next station: blocks in a row, on one track or on two. */
export interface LinePlan {
  readonly double: boolean;
  readonly blockLength: number;
  /** Blocks along the way. */
  readonly blocks: number;
  /** Sections by block: of the one track, or first of the eastbound and then of the westbound one. */
  readonly pieces: readonly number[];
}

/** Stations from west to east with the lines between them: one line fewer than stations. */
export interface RailwayPlan {
  readonly stations: readonly StationPlan[];
  readonly lines: readonly LinePlan[];
}

export interface PlanOptions {
  readonly sections: number;
  readonly singleLineShare: number;
  readonly balloonLoops: boolean;
}

/** Below this many sections there is room for one station with two tracks and one with a single track. */
const SMALL = 30;
/** From this many sections on the railway ends in hidden yards. */
const YARDS_FROM = 150;
const WAYSIDE_TRACKS = 4;
const PIECES_PER_BLOCK = 2;
const PIECES_PER_TRACK = 3;
const BALLOON_PIECES = 3;

/**
 * Plans a railway of exactly `sections` detection sections. Of the blocks of line, counted along the way, at least
 * `singleLineShare` lie on single track; ten sections are just enough for a single line.
 */
export function planRailway(options: PlanOptions, random: RandomStream): RailwayPlan {
  const end = endStation(options, random, 'east');
  let plan: RailwayPlan = {
    stations: [endStation(options, random, 'west'), end],
    lines: [nextLine([], options, random, 1)],
  };
  if (countSections(plan) > options.sections) plan = { ...plan, lines: [line(false, 1, 2000)] };
  for (;;) {
    const sizes = [nextBetween(random, 2, 3), 2, 1];
    const grown = sizes
      .map((size) => growBeforeEnd(plan, options, random, size))
      .find((larger) => countSections(larger) <= options.sections);
    if (grown === undefined) return refine(plan, options.sections - countSections(plan));
    plan = grown;
  }
}

/** How many detection sections the plan needs. */
export function countSections({ stations, lines }: RailwayPlan): number {
  const ofLines = lines.reduce((sum, { pieces }) => sum + total(pieces), 0);
  return stations.reduce((sum, station, index) => {
    const necks = [lines[index - 1], lines[index]].filter((side) => side?.double === true).length;
    return sum + sectionsOfStation(station, necks);
  }, ofLines);
}

function sectionsOfStation(station: StationPlan, necks: number): number {
  const ofTracks = station.tracks * station.pieces;
  if (station.kind === 'wayside') return ofTracks + 4;
  const ladders = (station.kind === 'throat' || station.balloon ? 2 : 1) * (station.tracks - 1);
  return ofTracks + ladders + necks + (station.balloon ? 1 + BALLOON_PIECES : 0);
}

/** One more station and line, put in before the last station. */
function growBeforeEnd(
  { stations, lines }: RailwayPlan,
  options: PlanOptions,
  random: RandomStream,
  size: number,
): RailwayPlan {
  const added = nextLine(lines, options, random, size);
  const between = lines.at(-1)?.double === true && added.double;
  const wayside = between && size > 1 && stations.at(-2)?.kind !== 'wayside';
  const station: StationPlan = {
    kind: wayside ? 'wayside' : 'throat',
    tracks: wayside ? WAYSIDE_TRACKS : Math.max(2, nextBetween(random, 1, 2) + size - 1),
    trackLength: nextBetween(random, 18, 24) * 100,
    pieces: PIECES_PER_TRACK,
    balloon: false,
    hidden: false,
  };
  return {
    stations: [...stations.slice(0, -1), station, ...stations.slice(-1)],
    lines: [...lines, added],
  };
}

function endStation(
  { sections, balloonLoops }: PlanOptions,
  random: RandomStream,
  side: 'west' | 'east',
): StationPlan {
  const small = sections < SMALL;
  const hidden = sections >= YARDS_FROM;
  const wanted = hidden ? nextBetween(random, 4, 8) : 2;
  return {
    kind: 'end',
    tracks: small && side === 'east' ? 1 : wanted,
    trackLength: nextBetween(random, 18, 26) * 100,
    pieces: small ? 2 : PIECES_PER_TRACK,
    balloon: balloonLoops && !small,
    hidden,
  };
}

/** Single until the share is reached, then double as long as it stays reached. */
function nextLine(
  lines: readonly LinePlan[],
  { singleLineShare }: PlanOptions,
  random: RandomStream,
  blocks: number,
): LinePlan {
  const along = total(lines.map((it) => it.blocks)) + blocks;
  const single = total(lines.filter((it) => !it.double).map((it) => it.blocks));
  return line(single >= singleLineShare * along, blocks, nextBetween(random, 16, 24) * 100);
}

const line = (double: boolean, blocks: number, blockLength: number): LinePlan => ({
  double,
  blocks,
  blockLength,
  pieces: Array.from({ length: double ? 2 * blocks : blocks }, () => PIECES_PER_BLOCK),
});

/** Divides blocks of line more finely, the coarsest first, until the sections left are used up. */
function refine(plan: RailwayPlan, left: number): RailwayPlan {
  const lines = plan.lines.map((it) => ({ ...it, pieces: [...it.pieces] }));
  for (let rest = left; rest > 0; rest -= 1) {
    const coarsest = Math.min(...lines.map(({ pieces }) => Math.min(...pieces)));
    const chosen = lines.find(({ pieces }) => pieces.includes(coarsest));
    if (chosen !== undefined) chosen.pieces[chosen.pieces.indexOf(coarsest)] = coarsest + 1;
  }
  return { ...plan, lines };
}

const total = (numbers: readonly number[]): number => numbers.reduce((sum, it) => sum + it, 0);
