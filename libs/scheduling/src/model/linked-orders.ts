import type { Problem } from '../problem/problem.js';
import type { Encounter, Holding } from './orders.js';

/** Encounters of two trains that have the same answer, as far as both happen. */
export interface LinkedOrders {
  /** Question of order by encounter. */
  readonly questionOf: Int32Array;
  readonly questions: number;
  /** Pairs of encounters for which "the first train goes first" at the one implies the same at the other. */
  readonly implied: readonly (readonly [number, number])[];
}

/**
 * Two trains can't overtake or cross between places where each of them goes from one straight to the other, so there
 * one question of order is enough. The first and the last operation of a holding are told apart by their numbers,
 * which grow along every path: if B begins to hold the first place no later than it ends to hold the second, and A
 * begins at the second no later than it ends at the first, A can't be first at the first and B at the second.
 *
 * @param presence literals by train and operation, `always` for operations every path has
 */
export function linkOrders(
  problem: Problem,
  encounters: readonly Encounter[],
  presence: readonly (readonly number[])[],
  always: number,
): LinkedOrders {
  const stretches = new Map<number, Stretch>();
  const stretchFor = (holding: Holding): Stretch => {
    const known = stretches.get(holding.set);
    if (known !== undefined) return known;
    const stretch = stretchOf(problem, holding, presence[holding.train]!, always);
    stretches.set(holding.set, stretch);
    return stretch;
  };
  const trains = problem.trains.length;
  const groups = new Map<number, Meeting[]>();
  encounters.forEach(([a, b], encounter) => {
    const key = a.train * trains + b.train;
    const meeting = { encounter, a: stretchFor(a), b: stretchFor(b) };
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [meeting]);
    else group.push(meeting);
  });
  const questionOf = new Int32Array(encounters.length);
  const implied: [number, number][] = [];
  let questions = 0;
  for (const group of groups.values()) {
    group.sort((x, y) => x.a.first - y.a.first || x.a.end - y.a.end || x.encounter - y.encounter);
    const certain = group.filter(({ a, b }) => a.certain && b.certain);
    certain.forEach((meeting, at) => {
      const like = certain.slice(0, at).find((other) => alike(meeting, other));
      questionOf[meeting.encounter] =
        like === undefined ? questions++ : questionOf[like.encounter]!;
      const before = certain[at - 1];
      if (before === undefined) return;
      if (implies(before, meeting)) implied.push([before.encounter, meeting.encounter]);
      if (implies(meeting, before)) implied.push([meeting.encounter, before.encounter]);
    });
    // What may not happen gets its answer from what surely happens, never the other way round.
    for (const meeting of group) {
      if (meeting.a.certain && meeting.b.certain) continue;
      const like = certain.find((other) => alike(meeting, other));
      questionOf[meeting.encounter] =
        like === undefined ? questions++ : questionOf[like.encounter]!;
    }
  }
  return { questionOf, questions, implied };
}

interface Meeting {
  readonly encounter: number;
  readonly a: Stretch;
  readonly b: Stretch;
}

interface Stretch {
  /** Number of the operation with which a holding begins, at the latest. */
  readonly first: number;
  /** Number of the operation whose start ends the holding, at the earliest. */
  readonly end: number;
  /** Whether every path has all its operations. */
  readonly certain: boolean;
}

const implies = (one: Meeting, other: Meeting): boolean =>
  other.a.first <= one.a.end && one.b.first <= other.b.end;

const alike = (one: Meeting, other: Meeting): boolean => implies(one, other) && implies(other, one);

function stretchOf(
  problem: Problem,
  { train, operations }: Holding,
  presence: readonly number[],
  always: number,
): Stretch {
  const ends = operations.map((operation) => {
    const { successors } = problem.trains[train]![operation]!;
    return successors.length === 0 ? Infinity : Math.min(...successors);
  });
  const together = operations.every(
    (operation) => presence[operation] === presence[operations[0]!],
  );
  return {
    first: together ? Math.min(...operations) : Math.max(...operations),
    end: together ? Math.max(...ends) : Math.min(...ends),
    certain: together && presence[operations[0]!] === always,
  };
}
