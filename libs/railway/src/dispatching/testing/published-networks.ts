import type { Move, SafetyProblem, TrainGraph } from '../safety-problem.js';

/** A problem with its start and the names used where it was published. */
export interface PublishedNetwork {
  readonly problem: SafetyProblem;
  readonly start: readonly number[];
  /** Nodes of a state given by the place of each train, in the order of the trains. */
  at(...places: readonly string[]): number[];
  /** A train's move to a place, from where it stands. */
  nodeOf(train: number, place: string): number;
}

/**
 * Builds a network in which each train holds one block and goes along a list of steps. Alternatives in a step
 * are separated by `|`; a place with `*` lies outside the railway and holds nothing. Each alternative leads to all
 * alternatives of the next step.
 */
export function blockNetwork(ways: readonly string[]): PublishedNetwork {
  return namedNetwork(
    ways.map((way) => way.split(',').map((step) => step.trim().split('|'))),
    (place) => (place.startsWith('*') ? [] : [place]),
  );
}

/**
 * The same with what each place of each train holds, and what entering it needs besides, given by name.
 * Places are the nodes; a place may stand only once in a train's way.
 */
export function namedNetwork(
  ways: readonly (readonly (readonly string[])[])[],
  holdsOf: (place: string, train: number) => readonly string[],
  needsOf: (place: string, train: number) => readonly string[] = holdsOf,
): PublishedNetwork {
  const numbers = new Map<string, number>();
  const numberOf = (name: string): number => {
    const number = numbers.get(name) ?? numbers.size;
    numbers.set(name, number);
    return number;
  };
  const places = ways.map((way) => way.flat());
  const trains = ways.map((way, train): TrainGraph => {
    const own = places[train]!;
    const stepOf = own.map((place) => way.findIndex((step) => step.includes(place)));
    const holds = own.map((place) => holdsOf(place, train).map(numberOf));
    const needs = own.map((place) => needsOf(place, train).map(numberOf));
    const moves = own.map((_, node): Move[] =>
      (way[stepOf[node]! + 1] ?? []).map((place) => {
        const to = own.indexOf(place);
        return { to, needs: needs[to]!, needsFreeOfSelf: [] };
      }),
    );
    return {
      moves: (node) => moves[node]!,
      holds: (node) => holds[node]!,
      isGoal: (node) => stepOf[node] === way.length - 1,
      distance: (node) => way.length - 1 - stepOf[node]!,
    };
  });
  const nodeOf = (train: number, place: string): number => {
    const node = places[train]!.indexOf(place);
    if (node < 0) throw new Error(`Train ${train} has no place ${place}.`);
    return node;
  };
  return {
    problem: { resourceCount: numbers.size, trains },
    start: ways.map(() => 0),
    nodeOf,
    at: (...names) => names.map((place, train) => nodeOf(train, place)),
  };
}

/** Mazzanti, Ferrari, Spagnolo, STTT: eight trains on a one-way yard, the published data set. */
export function oneway8(): PublishedNetwork {
  return blockNetwork([
    '1,9,10,13,15,20,23',
    '3,9,10,13,15,20,24',
    '5,27,11,13,16,20,25',
    '7,27,11,13,16,20,26',
    '23,22,17,18,11,9,2',
    '24,22,17,18,11,9,4',
    '25,22,17,18,12,27,6',
    '26,22,17,18,12,27,8',
  ]);
}

/** Two trains that pass three blocks in a row against each other; derived, reproduced independently. */
export function noLoop(): PublishedNetwork {
  return blockNetwork(['W1,S1,S2,S3,*E', 'E1,S3,S2,S1,*W']);
}

/** The same line with a loop in the middle; the phenomenon was published by Cui, Martin, Liang, JRTPM 7, 2017. */
export function loop1(): PublishedNetwork {
  return blockNetwork(['W1,S1,L1,S2,*E', 'E1,S2,L2,S1,*W']);
}

/** Two two-track stations with one single block M between them; trains start east or west of it. */
export function station2(east: readonly string[], west: readonly string[]): PublishedNetwork {
  const eastward = (from: string): string => {
    if (from.startsWith('A')) return `${from},M,B1|B2,*E`;
    return from === 'M' ? 'M,B1|B2,*E' : `${from},*E`;
  };
  const westward = (from: string): string => {
    if (from.startsWith('B')) return `${from},M,A1|A2,*W`;
    return from === 'M' ? 'M,A1|A2,*W' : `${from},*W`;
  };
  return blockNetwork([...east.map(eastward), ...west.map(westward)]);
}

/** A circle of blocks with trains that go round until each is one block short of where it began. */
export function ring(blocks: number, trains: number): PublishedNetwork {
  return blockNetwork(
    Array.from({ length: trains }, (_, train) =>
      Array.from({ length: blocks }, (_, step) => String((train + step) % blocks)).join(),
    ),
  );
}

/** Four ways that cross in a square of four blocks. */
export function gridlock4(): PublishedNetwork {
  return blockNetwork(['n,q1,q2,*x', 'e,q2,q3,*x', 's,q3,q4,*x', 'w,q4,q1,*x']);
}

/** A hidden yard of two tracks behind one throat and one shared approach; the arrival starts outside. */
export function yard2(): PublishedNetwork {
  return blockNetwork(['*M,A,X,Y1|Y2', 'Y1,X,A,*M', 'Y2,X,A,*M']);
}

/** Tracks of the station of MEET3: greatest length that clears the switches, and with the switches. */
const MEET3_TRACKS = { Main: { stop: 3, withSwitch: 4 }, Siding: { stop: 5, withSwitch: 6 } };

/**
 * Dal Sasso, Lamorgese, Mannino et al., J. Rail Transp. Plan. Manag. 17, 2021, instances 1–3. Open block W, a
 * station of two tracks, open block E, outer block X. T1 stands in W and leaves eastwards through X; T3 stands in E
 * and T2 behind it in X, both leave westwards. A train too long for a track's stop blocks the switches at both
 * ends; one that is longer still keeps the block behind it too, since the track ahead must hold the whole train
 * before its rear is free.
 * @param lengths of the trains in the published unit; without T2 only two trains run
 */
export function meet3(lengths: { T1: number; T2?: number; T3: number }): PublishedNetwork {
  const east = [['W'], ['Main', 'Siding'], ['E'], ['X'], ['*east']];
  const west = [['E'], ['Main', 'Siding'], ['W'], ['*west']];
  const trains = [
    { length: lengths.T1, way: east, behind: 'W' },
    { length: lengths.T3, way: west, behind: 'E' },
    ...(lengths.T2 === undefined
      ? []
      : [{ length: lengths.T2, way: [['X'], ...west], behind: 'E' }]),
  ];
  const holdsOf = (place: string, train: number): string[] => {
    if (place.startsWith('*')) return [];
    if (place !== 'Main' && place !== 'Siding') return [place];
    const { length, behind } = trains[train]!;
    return [
      place,
      ...(length > MEET3_TRACKS[place].stop ? ['west switch', 'east switch'] : []),
      ...(length > MEET3_TRACKS[place].withSwitch ? [behind] : []),
    ];
  };
  const needsOf = (place: string, train: number): string[] => {
    const held = holdsOf(place, train);
    const { way } = trains[train]!;
    const eastbound = way === east;
    if (place === 'Main' || place === 'Siding') {
      return [...held, eastbound ? 'west switch' : 'east switch'];
    }
    if (place === 'E' && eastbound) return [...held, 'east switch'];
    return place === 'W' && !eastbound ? [...held, 'west switch'] : held;
  };
  return namedNetwork(
    trains.map(({ way }) => way),
    holdsOf,
    needsOf,
  );
}
