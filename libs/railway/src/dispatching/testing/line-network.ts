import type { Move, SafetyProblem, TrainGraph } from '../safety-problem.js';

export interface LineNetworkOptions {
  readonly seed: number;
  readonly trains: number;
  readonly stations: number;
  /** Ends of the line to reach one after another, turning back at each. */
  readonly legs: number;
  /** Blocks between two stations. */
  readonly blocksBetween: number;
  /** Share of the stretches between stations that are single track, in percent. */
  readonly singlePercent: number;
  /** Share of trains that hold the block behind them too, in percent. */
  readonly longPercent: number;
}

interface Place {
  readonly leg: number;
  readonly column: number;
  readonly track: number;
  readonly behind: readonly number[];
}

/** A seeded generator of integers below a bound: a 32-bit linear congruence, its upper bits used. */
export function seededIntegers(seed: number): (below: number) => number {
  let state = seed >>> 0;
  return (below) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 4294967296) * below);
  };
}

/**
 * A line between two yards with a track for every train, with stations of two or three tracks and single or
 * double track between them. Every train shuttles between the yards and at the end rests in one. Starts with
 * all trains in the yards, which is always safe.
 */
export function lineNetwork(options: LineNetworkOptions): {
  readonly problem: SafetyProblem;
  readonly start: readonly number[];
} {
  const random = seededIntegers(options.seed);
  const line = layLine(options, random);
  const yardOf = Array.from({ length: options.trains }, () => random(2));
  const trains = yardOf.map(
    (yard, train) =>
      new ShuttleGraph(line, options.legs, yard === 1, train, random(100) < options.longPercent),
  );
  return {
    problem: { resourceCount: line.resourceCount, trains },
    start: trains.map(() => 0),
  };
}

interface Line {
  /** For each column, its parallel tracks' resources; an up and a down track on double line. */
  readonly columns: readonly (readonly number[])[];
  /** Double line: the first track serves one direction, the second the other. */
  readonly directional: readonly boolean[];
  /** Throat between a column and the next, or -1. */
  readonly throats: readonly number[];
  readonly resourceCount: number;
}

function layLine(options: LineNetworkOptions, random: (below: number) => number): Line {
  const columns: number[][] = [];
  const directional: boolean[] = [];
  const throats: number[] = [];
  let next = 0;
  const lay = (tracks: number, oneWay: boolean, throat: boolean): void => {
    columns.push(Array.from({ length: tracks }, () => next++));
    directional.push(oneWay);
    throats.push(throat ? next++ : -1);
  };
  lay(options.trains, false, true);
  for (let station = 0; station <= options.stations; station += 1) {
    const single = random(100) < options.singlePercent;
    for (let block = 1; block <= options.blocksBetween; block += 1) {
      lay(single ? 1 : 2, !single, single && block === options.blocksBetween);
    }
    if (station < options.stations) lay(2 + random(2), false, single);
  }
  lay(options.trains, false, false);
  return { columns, directional, throats, resourceCount: next };
}

class ShuttleGraph implements TrainGraph {
  readonly #places: Place[] = [];
  readonly #holdings: (readonly number[])[] = [];
  readonly #numbers = new Map<string, number>();
  readonly #moves: (readonly Move[] | undefined)[] = [];

  constructor(
    private readonly line: Line,
    private readonly legs: number,
    private readonly mirrored: boolean,
    yardTrack: number,
    private readonly long: boolean,
  ) {
    this.#number({ leg: 0, column: 0, track: yardTrack, behind: [] });
  }

  moves(node: number): readonly Move[] {
    return (this.#moves[node] ??= this.#findMoves(this.#places[node]!));
  }

  holds(node: number): readonly number[] {
    return this.#holdings[node]!;
  }

  isGoal(node: number): boolean {
    return this.#places[node]!.leg === this.legs;
  }

  distance(node: number): number {
    const { leg, column } = this.#places[node]!;
    const span = this.line.columns.length - 1;
    return leg === this.legs ? 0 : (this.legs - leg) * span - column;
  }

  #findMoves(place: Place): Move[] {
    if (place.leg === this.legs) return [];
    const column = place.column + 1;
    const last = column === this.line.columns.length - 1;
    const throat = this.#throat(place);
    return this.#tracks(place, column).map((track) => {
      const arrived = last ? { leg: place.leg + 1, column: 0 } : { leg: place.leg, column };
      const behind = this.long && !last ? [this.#resource(place)] : [];
      const to = this.#number({ ...arrived, track, behind });
      const needs = [...this.holds(to), ...(throat < 0 ? [] : [throat])];
      return { to, needs, needsFreeOfSelf: [] };
    });
  }

  /** Columns count from the yard the leg begins in. */
  #column(leg: number, column: number): number {
    return (leg % 2 === 1) === this.mirrored ? column : this.line.columns.length - 1 - column;
  }

  #tracks(place: Place, column: number): number[] {
    const at = this.#column(place.leg, column);
    const tracks = this.line.columns[at]!.map((_, track) => track);
    const forwards = (place.leg % 2 === 1) === this.mirrored;
    return this.line.directional[at]! ? [tracks[forwards ? 0 : 1]!] : tracks;
  }

  #throat(place: Place): number {
    const here = this.#column(place.leg, place.column);
    return this.line.throats[Math.min(here, this.#column(place.leg, place.column + 1))]!;
  }

  #resource(place: Place): number {
    return this.line.columns[this.#column(place.leg, place.column)]![place.track]!;
  }

  #number(place: Place): number {
    const key = `${place.leg}/${place.column}/${place.track}/${place.behind.join()}`;
    let number = this.#numbers.get(key);
    if (number === undefined) {
      number = this.#places.length;
      this.#places.push(place);
      this.#holdings.push([this.#resource(place), ...place.behind]);
      this.#numbers.set(key, number);
    }
    return number;
  }
}
